import { InputError } from "../../quantity/input-error.ts";

/** Twelve digits of a statistic: the last bits of a binary quantile differ between engines, printed digits do not. */
export function roundStable(value: number): number {
  return Number(value.toPrecision(12));
}

/** @throws InputError when the confidence level is not inside (0, 1) */
export function requireLevel(level: number): number {
  if (!(level > 0 && level < 1)) {
    throw new InputError("level", "must be greater than 0 and less than 1, for example 0.95");
  }
  return level;
}

/** A count of objects or units, with at most three decimals. @throws InputError otherwise */
export function requireDecimalCount(field: string, count: number): number {
  if (!(count >= 0 && count < Number.MAX_SAFE_INTEGER) || Number(count.toFixed(3)) !== count) {
    throw new InputError(field, "must be a count: 0 or more, with at most three decimals");
  }
  return count;
}

/** A whole count, for methods that are exact only for whole numbers. @throws InputError otherwise */
export function requireWholeCount(field: string, count: number): number {
  if (!Number.isSafeInteger(count) || count < 0) {
    throw new InputError(field, "must be a whole number, 0 or more");
  }
  return count;
}

/** @throws InputError when the number is not finite or not greater than zero */
export function requirePositiveNumber(field: string, value: number): number {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY)) {
    throw new InputError(field, "must be greater than zero");
  }
  return value;
}

/** Counts of the fields, one per field, an empty field as 0. @throws InputError for fewer than `least` fields */
export function requireFields(fields: readonly number[], least: number): readonly number[] {
  if (fields.length < least) {
    throw new InputError(
      "fields",
      least === 1
        ? "must not be empty: count at least one field"
        : `needs at least ${least} fields, got ${fields.length}`,
    );
  }
  fields.forEach((count, index) => {
    requireDecimalCount(`fields.${index}`, count);
  });
  return fields;
}
