import { readFileSync } from "node:fs";
import { join } from "node:path";
import { TrailHead } from "#core/contract/records/trail.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { writeWhole } from "./durable-file.ts";

const FILE_NAME = "trail-heads.txt";
/** The newest ones; a copy kept elsewhere each month overlaps with the next. */
const MOST_HEADS = 400;

const WORDS = [
  "How far the audit trail of this Linefall bench went, and when: line, hash of that line, instant.",
  "The hash stands for every line before it. A copy of this file kept where nobody can change it together with the",
  "bench shows later whether history was written anew: npm run verify -- bench.sqlite --heads trail-heads.txt",
  "",
];

export const anchorFileOf = ({ dataFolder }: BenchPaths): string => join(dataFolder, FILE_NAME);

function entriesIn(text: string): string[] {
  return text.split("\n").filter((line) => TrailHead.safeParse(line.split(" ")[0]).success);
}

/** The heads noted so far with one more, as the text of the file. */
export function anchorText(paths: BenchPaths, head: TrailHead | null, at: string): string {
  let entries: string[] = [];
  try {
    entries = entriesIn(readFileSync(anchorFileOf(paths), "utf8"));
  } catch {
    // The first one, or a file that was taken away: the heads it held are in the names of backups too.
  }
  if (head !== null && entries.at(-1)?.split(" ")[0] !== head) entries.push(`${head} ${at}`);
  return `${[...WORDS, ...entries.slice(-MOST_HEADS)].join("\n")}\n`;
}

/** Notes beside the bench how far its trail goes, where that can be: the names of backups and every export tell it too. */
export function noteTrailHead(paths: BenchPaths, head: TrailHead | null, at: string): void {
  if (head === null) return;
  try {
    writeWhole(anchorFileOf(paths), anchorText(paths, head, at));
  } catch {
    // A full disk or a folder that has gone is told by what wanted to be stored there.
  }
}
