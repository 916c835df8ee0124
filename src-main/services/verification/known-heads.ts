import type { HeadsComparison, NotedHead } from "#core/contract/records/trail.ts";
import type { KnownHead } from "../../exchange/noted-heads.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { hashAtLine } from "../../store/repositories/audit-trail.ts";

type HeadsCompared<H> = Pick<HeadsComparison, "agreesUpTo"> & { differing: H[] };

/**
 * Holds the trail against heads noted elsewhere. A chain of hashes alone proves nothing against somebody who can write
 * the file and make every hash anew: what was noted outside the file does.
 */
export function compareHeads<H extends NotedHead>(db: ReadableDb, heads: readonly H[]): HeadsCompared<H> {
  const agrees = ({ sequence, hash }: H): boolean => {
    return hashAtLine(db, sequence)?.startsWith(hash) === true;
  };
  const rising = [...heads].sort((a, b) => a.sequence - b.sequence);
  const firstDiffering = rising.findIndex((head) => !agrees(head));
  const before = firstDiffering < 0 ? rising : rising.slice(0, firstDiffering);
  return {
    agreesUpTo: before.at(-1)?.sequence ?? 0,
    differing: rising.filter((head) => !agrees(head)),
  };
}

/** What the comparison says, one sentence a line. */
export function headsInWords(
  { agreesUpTo, differing }: HeadsCompared<KnownHead>,
  compared: number,
): string[] {
  const lines = differing.map(
    ({ sequence, hash, from }) =>
      `DIFFERS  trail, line ${sequence}: ${from} knows it with the hash ${hash} …; here it is gone or another`,
  );
  const [first] = differing;
  if (!first) {
    return compared === 0 ? [] : [`History up to line ${agreesUpTo} is the one that was noted elsewhere.`];
  }
  return [
    ...lines,
    `History was written anew somewhere from line ${agreesUpTo + 1} to line ${first.sequence}.`,
  ];
}
