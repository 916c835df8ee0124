import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { hashOfLine, NO_LINE_BEFORE, trailAfter } from "../../store/repositories/audit-trail.ts";
import { wrongModels } from "../../store/repositories/trail-lines.ts";
import type { Differences } from "./differences.ts";

const PAGE = 500;

/** A line of the trail and its hash in full. */
export interface FollowedTo {
  readonly sequence: number;
  readonly hash: string;
}

/** Where the chain of hashes is followed from, and who is told how far it agrees. */
export interface Chain {
  /** Followed to there before: lines up to it are not hashed again. Null: from the first line. */
  readonly from: FollowedTo | null;
  /** Called while nothing differs. */
  agrees(to: FollowedTo): void;
}

export const WHOLE_CHAIN: Chain = { from: null, agrees: () => undefined };

/** Follows the chain of hashes. @returns how many lines were hashed, with those added meanwhile */
export async function verifyTrail(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
  renew: () => void,
  { from, agrees }: Chain,
): Promise<number> {
  let lines = 0;
  let agreed = true;
  let before: FollowedTo = from ?? { sequence: 0, hash: NO_LINE_BEFORE };
  for (;;) {
    const page = trailAfter(db, before.sequence, PAGE);
    for (const { hash, ...line } of page) {
      lines += 1;
      if (line.sequence !== before.sequence + 1) {
        agreed = false;
        differences.add(`trail line ${before.sequence + 1}`, "no line", "a line: the numbers have no gaps");
      }
      const expected = hashOfLine(line, before.hash);
      if (hash !== expected) {
        agreed = false;
        differences.add(`trail line ${line.sequence}, ${line.act}`, hash, expected);
      }
      before = { sequence: line.sequence, hash };
    }
    if (agreed) agrees(before);
    if (page.length < PAGE) break;
    await yieldToEvents();
    renew();
  }
  for (const id of wrongModels(db)) {
    differences.add(`model ${id} of lines of the trail`, "another text", "the one that its line makes");
  }
  return lines;
}
