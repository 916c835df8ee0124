import type { Decimal } from "../quantity/decimal.ts";

export const CASE_GRADES = ["published", "golden", "from memory", "common practice"] as const;
/**
 * `published`: printed where the source says, as `author: title (year), place`. `golden`: computed outside the program.
 * `from memory`: printed, but recalled and not looked up. `common practice`: no source.
 */
export type CaseGrade = (typeof CASE_GRADES)[number];

/** One check against a value from outside the program; data, so that it can also be run at the user's bench. */
export interface ReferenceCase {
  readonly id: string;
  readonly source: string;
  readonly standing: CaseGrade;
  readonly what: string;
  readonly expected: string;
  /** Absolute tolerance as decimal text, or 'exact' */
  readonly tolerance: string;
  readonly got: () => Decimal | number | string;
}
