import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative } from "../quantity/input-error.ts";

/**
 * A reading of a filar (screw) micrometer eyepiece in scale divisions: whole turns of the drum, seen on the fixed scale,
 * and the drum's own divisions. One turn moves the hair line by one division of the fixed scale, or by as many as
 * `divisionsPerTurn` says. Approach every line from the same side: the screw has play.
 * @param drum reading of the drum, in its divisions; @param drumDivisions number of divisions around the drum
 * @throws InputError `turns`, `drum`, `drumDivisions` or `divisionsPerTurn`
 */
export function divisionsOfDrum(
  turns: Decimal,
  drum: Decimal,
  drumDivisions: number,
  divisionsPerTurn: Decimal = decimal(1),
): Decimal {
  requireNotNegative("turns", turns);
  if (!turns.isInteger()) throw new InputError("turns", "must be a whole number of turns");
  requireDrum(drumDivisions);
  requireNotNegative("drum", drum);
  if (drum.greaterThanOrEqualTo(drumDivisions)) {
    throw new InputError("drum", `must be less than ${drumDivisions}, one whole turn`);
  }
  if (!requireFinite("divisionsPerTurn", divisionsPerTurn).greaterThan(0)) {
    throw new InputError("divisionsPerTurn", "must be greater than zero");
  }
  return turns.plus(drum.div(drumDivisions)).times(divisionsPerTurn);
}

/** The step of the drum as a fraction of a scale division, for the smallest fraction read: 0.01 for 100 divisions. */
export function drumStep(drumDivisions: number, divisionsPerTurn: Decimal = decimal(1)): Decimal {
  requireDrum(drumDivisions);
  return divisionsPerTurn.div(drumDivisions);
}

function requireDrum(drumDivisions: number): void {
  if (!Number.isInteger(drumDivisions) || drumDivisions < 1) {
    throw new InputError("drumDivisions", "must be a whole number of divisions, at least 1");
  }
}
