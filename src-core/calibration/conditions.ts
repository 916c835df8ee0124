import { type Decimal, decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite, requireNotNegative } from "../quantity/input-error.ts";
import type { CalibrationConditions } from "./calibration.ts";

/** Largest believable value of each input: beyond it a unit or a decimal mark is wrong, and the model no longer holds. */
const BELIEVABLE: Record<keyof CalibrationConditions, { readonly most: string; readonly advice: string }> = {
  temperature: { most: "60", advice: "in °C" },
  temperatureHalfWidth: { most: "50", advice: "in K" },
  expansion: { most: "0.001", advice: "in 1/K: glass is about 0.000009" },
  expansionHalfWidth: { most: "0.001", advice: "in 1/K" },
  micrometerDriftHalfWidth: { most: "1000", advice: "in µm" },
  alignmentHalfAngle: { most: "20", advice: "in degrees" },
  fieldDistortionHalfWidth: { most: "0.2", advice: "a fraction: 0.001 means 0.1 %" },
  trainHalfWidth: { most: "0.2", advice: "a fraction: 0.001 means 0.1 %" },
  trainDoubt: { most: "1", advice: "a fraction: 0.2 means 20 %" },
  smallestFraction: { most: "10", advice: "in divisions" },
};

/** Inputs that may be below zero: a cold room, a material that shrinks. */
const MAY_BE_NEGATIVE: readonly (keyof CalibrationConditions)[] = ["temperature", "expansion"];

export const CONDITION_KEYS = Object.keys(BELIEVABLE) as readonly (keyof CalibrationConditions)[];

/**
 * Checks the inputs of a factor's budget.
 * @throws InputError `conditions.<key>` for a value that is not finite, negative, or beyond belief
 */
export function requireConditions(conditions: CalibrationConditions): void {
  for (const key of CONDITION_KEYS) requireCondition(key, conditions[key]);
}

function requireCondition(key: keyof CalibrationConditions, value: Decimal): void {
  const field = `conditions.${key}`;
  const { most, advice } = BELIEVABLE[key];
  requireFinite(field, value);
  if (!MAY_BE_NEGATIVE.includes(key)) requireNotNegative(field, value);
  if (value.abs().greaterThan(decimal(most))) {
    throw new InputError(field, `cannot be ${value.toString()}: write it ${advice}, at most ${most}`);
  }
}
