import {
  type BiovolumeLine,
  type BiovolumeSum,
  countBiovolumes,
} from "#core/counting/results/count-biovolumes.ts";
import type { CountJob } from "./count-job.ts";

/** True where a count has cell volumes to tell of. */
export function hasBiovolumes({ bundle }: Pick<CountJob, "bundle">): boolean {
  return countBiovolumes(bundle.count, bundle.results).lines.length > 0;
}

/** Lines of the report: each taxon and sum, and what is to be borne in mind. */
export function biovolumeReport({ bundle }: CountJob): {
  readonly amounts: readonly (readonly [name: string, words: string])[];
  readonly remarks: readonly string[];
} {
  const { lines, sums, remarks } = countBiovolumes(bundle.count, bundle.results);
  const words = ({ volume, carbon }: BiovolumeSum | BiovolumeLine) =>
    carbon ? `${volume.shown}; ${carbon.shown}` : volume.shown;
  return {
    amounts: [
      ...lines.map((line) => [line.name, `${words(line)}; one cell ${line.cellShown}`] as const),
      ...sums.map((sum) => [sum.group ?? "all of them", words(sum)] as const),
    ],
    remarks,
  };
}
