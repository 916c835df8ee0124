import { InputError } from "../quantity/input-error.ts";

/** A square of a finder slide: its column by letters, its line by number. */
export interface FinderSquare {
  /** In capitals. */
  readonly letters: string;
  readonly number: number;
}

const SQUARE = /^([A-Za-z]{1,2})(\d{1,3})$/;

/**
 * Reads the square of a finder slide as it is typed: one or two letters, then one to three digits (common practice, no
 * source). Capitals and small letters mean the same square.
 * @throws InputError under `field`
 */
export function readFinderSquare(field: string, typed: string): FinderSquare {
  const [, letters, digits] = SQUARE.exec(typed.trim()) ?? [];
  if (letters === undefined || digits === undefined) {
    throw new InputError(
      field,
      "is no square of a finder slide: one or two letters, then one to three digits, as in M23",
    );
  }
  return { letters: letters.toUpperCase(), number: Number(digits) };
}

/** Where a column of a finder slide comes: A is 1, Z 26, AA 27. */
export function columnOfSquare({ letters }: Pick<FinderSquare, "letters">): number {
  return [...letters].reduce((column, letter) => column * 26 + letter.charCodeAt(0) - 64, 0);
}
