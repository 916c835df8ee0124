import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { hashOfLine, NO_LINE_BEFORE, trailAfter } from "../../store/repositories/audit-trail.ts";
import type { Differences } from "./differences.ts";

const PAGE = 500;

/** Follows the chain of hashes from the first line. @returns how many lines there are, with those added meanwhile */
export async function verifyTrail(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
  renew: () => void,
): Promise<number> {
  let lines = 0;
  let before = { sequence: 0, hash: NO_LINE_BEFORE };
  for (;;) {
    const page = trailAfter(db, before.sequence, PAGE);
    for (const { hash, ...line } of page) {
      lines += 1;
      if (line.sequence !== before.sequence + 1) {
        differences.add(`trail line ${before.sequence + 1}`, "no line", "a line: the numbers have no gaps");
      }
      const expected = hashOfLine(line, before.hash);
      if (hash !== expected) differences.add(`trail line ${line.sequence}, ${line.act}`, hash, expected);
      before = { sequence: line.sequence, hash };
    }
    if (page.length < PAGE) return lines;
    await yieldToEvents();
    renew();
  }
}
