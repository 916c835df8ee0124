import type { Decimal } from "../quantity/decimal.ts";

/** One check against a value from outside the program; data, so that it can also be run at the user's bench. */
export interface ReferenceCase {
  readonly id: string;
  readonly source: string;
  readonly standing: "published" | "golden" | "from memory" | "common practice";
  readonly what: string;
  readonly expected: string;
  /** Absolute tolerance as decimal text, or 'exact' */
  readonly tolerance: string;
  readonly got: () => Decimal | number | string;
}
