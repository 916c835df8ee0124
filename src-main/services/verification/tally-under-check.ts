import type { Tally, TallyEvent } from "#core/contract/records/tally.ts";
import type { ReadableDb } from "../../store/connection.ts";
import type { Differences } from "./differences.ts";

/** A count that is verified: as stored, with all its events, and where a difference of it is told. */
export interface TallyUnderCheck {
  readonly db: ReadableDb;
  readonly tally: Tally;
  /** In the order of their numbers. */
  readonly events: readonly TallyEvent[];
  /** How a difference names the count: `count T-0001`. */
  readonly where: string;
  readonly differences: Differences;
}
