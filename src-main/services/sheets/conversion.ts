import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Measurement } from "#core/contract/records/sheet.ts";
import { readingsOf } from "#core/measurement/readings.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import { trainName } from "#core/optics/train-name.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";

/** The readings of one dimension as they are kept. */
export type TakenReadings = Pick<
  Measurement,
  "dimension" | "entry" | "left" | "right" | "direct" | "repeats"
>;

/** What follows from the readings; the same whether they are entered, corrected or verified. */
export type Converted = Pick<Measurement, "divisions" | "size">;

/** Divisions and size from the typed readings and the factor of the calibration, when there is one. */
export function convertReadings(
  taken: TakenReadings,
  definition: Method["definition"],
  calibration: CalibrationRecord | null,
): Converted {
  const factor = calibration?.result;
  const by = { dimension: taken.dimension, factor: factor ?? null, definition };
  const { divisions, size } = previewReadings(readingsOf(taken), by);
  return { divisions: divisions && textOfDecimal(divisions), size };
}

/** Why readings stay divisions, and what to do about it. */
export function whyNoSize(train: OpticalTrain, microscope: Microscope): string {
  return `No calibration in force for ${trainName(train, microscope)}: calibrate it, then convert the rows (/ 0 in Measure).`;
}
