import { decimal } from "../../quantity/decimal.ts";
import { InputError } from "../../quantity/input-error.ts";
import {
  exactly,
  powerOf,
  productOf,
  scaledBy,
  type UncertainProduct,
} from "../../quantity/uncertain-product.ts";
import { type DrumTrap, HIRST_DRUM } from "../areas/drum-trap.ts";

/**
 * Grains per m³ of air (mean of 24 h) that one grain stands for, counted on longitudinal lines: the lines cover
 * lines·width/trace of the day's catch, and the trap drew flow·1440 min.
 * @param lineWidth width of one line, mm, from the calibrated factor; it enters once, because the lines run the whole trace
 * @throws InputError when the lines are wider than the trace
 */
export function drumPerObject(
  lineWidth: UncertainProduct,
  lines: number,
  trap: DrumTrap = HIRST_DRUM,
): UncertainProduct {
  if (!Number.isSafeInteger(lines) || lines < 1)
    throw new InputError("lines", "must be a whole number, 1 or more");
  const share = scaledBy(lineWidth, decimal(lines).div(decimal(trap.traceWidth)), "");
  if (share.value.greaterThan(1)) throw new InputError("lines", "cover more than the whole trace");
  const cubicMetres = exactly("airflow", decimal(trap.airflow).times(1440).div(1000), "m³");
  return powerOf(productOf(share, cubicMetres, "m³"), -1, "/m³");
}
