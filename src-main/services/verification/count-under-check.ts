import type { Count, CountEvent } from "#core/contract/records/count.ts";
import type { ReadableDb } from "../../store/connection.ts";
import type { Differences } from "./differences.ts";

/** A count that is verified: as stored, with all its events, and where a difference of it is told. */
export interface CountUnderCheck {
  readonly db: ReadableDb;
  readonly count: Count;
  /** In the order of their numbers. */
  readonly events: readonly CountEvent[];
  /** How a difference names the count: `count T-0001`. */
  readonly where: string;
  readonly differences: Differences;
}
