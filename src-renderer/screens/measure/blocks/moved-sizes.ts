import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import type { SheetContext } from "../sheet-context.ts";

/** One result as it stands and as it would be behind another objective. */
export interface MovedSize {
  readonly rowId: string;
  readonly ordinal: number;
  readonly label: string;
  readonly dimension: string;
  readonly objectiveNow: string;
  readonly sizeNow: string;
  readonly moved: string;
}

const shown = (size: { readonly shownValue: string; readonly shownUncertainty: string } | null): string =>
  size ? `${size.shownValue} ± ${size.shownUncertainty}` : "no factor";

function objectiveOf(context: SheetContext, trainId: string): string {
  const train = context.trains.find((one) => one.train.id === trainId)?.train;
  const objective = context.microscope.objectives.find((one) => one.id === train?.objectiveId);
  return objective ? `${objective.position} · ${objective.magnification}×` : "";
}

function sizeBehind(measurement: Measurement, status: TrainStatus, context: SheetContext): string {
  const { definition } = context.method;
  const factor = status.inForce?.result ?? null;
  const { dimension } = measurement;
  const { divisions, size } = previewReadings(readingsOf(measurement), { dimension, factor, definition });
  return divisions === null ? "" : shown(size);
}

/**
 * What stored results would become behind the train `status`: worked out by the function the service uses, from the
 * readings. Struck rows keep what they have, as do results measured with that train already.
 */
export function movedSizes(
  rows: readonly SpecimenRow[],
  status: TrainStatus,
  context: SheetContext,
): readonly MovedSize[] {
  const names = new Map(context.method.definition.dimensions.map((one) => [one.key, one.name]));
  return rows
    .filter((row) => row.struck === null)
    .flatMap((row) =>
      row.measurements
        .filter((one) => one.trainId !== status.train.id && one.divisions !== null)
        .map((one) => ({
          rowId: row.id,
          ordinal: row.ordinal,
          label: row.label,
          dimension: names.get(one.dimension) ?? one.dimension,
          objectiveNow: objectiveOf(context, one.trainId),
          sizeNow: shown(one.size),
          moved: sizeBehind(one, status, context),
        })),
    );
}
