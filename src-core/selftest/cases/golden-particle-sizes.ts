import { decimal } from "../../quantity/decimal.ts";
import { momentMean } from "../../statistics/moment-mean.ts";
import { byVolume, volumePercentile } from "../../statistics/volume-percentile.ts";
import { S30 } from "../data/golden-sample.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

function moment(p: number, q: number, expected: string): CaseRow {
  return { what: `D[${p},${q}]`, expected, got: () => momentMean(S30, p, q) };
}

const moments: readonly CaseRow[] = [
  moment(2, 0, "16.38163605993"),
  moment(3, 0, "17.055307985213"),
  moment(2, 1, "17.0494282083863"),
  moment(3, 1, "17.7536226773655"),
  moment(3, 2, "18.4869025704469"),
  moment(4, 3, "19.9859699532455"),
  moment(4, 0, "17.7449991253342"),
];

function byVolumeRows(printed: string): CaseRow[] {
  return printed.split(" ").map((expected, at) => {
    const p = ["0.1", "0.5", "0.9"][at] ?? "";
    return {
      what: `by volume, share ${p}`,
      expected,
      got: () => volumePercentile(byVolume(S30), decimal(p)).value,
    };
  });
}

/** The thirty invented diameters as particles: moment means and percentiles by volume. */
export const GOLDEN_PARTICLE_SIZES: readonly ReferenceCase[] = rowsOfCases(
  "golden-sizes",
  "Invented inputs; results recomputed with R 4.2.2",
  "golden",
  [...moments, ...byVolumeRows("13.1945157089562 19.178108645961 28.2300775094831")],
);
