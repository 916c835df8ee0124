import { readFileSync } from "node:fs";
import { join } from "node:path";
import { TrailHead } from "#core/contract/records/trail.ts";
import { signedLine } from "#core/contract/records/trail-signature.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { writeWhole } from "./durable-file.ts";

const FILE_NAME = "trail-heads.txt";
/** The newest ones; a copy kept elsewhere each month overlaps with the next. */
const MOST_HEADS = 400;

const WORDS = [
  "How far the audit trail of this Linefall bench went, and when: line, hash of that line, instant; where heads are",
  "signed also the key, by the first digits of its SHA-256, and the signature.",
  "The hash stands for every line before it. A copy of this file kept where nobody can change it together with the",
  "bench shows later whether history was written anew: npm run verify -- bench.sqlite --heads trail-heads.txt",
  "",
];

export const anchorFileOf = ({ dataFolder }: BenchPaths): string => join(dataFolder, FILE_NAME);

function entriesIn(text: string): string[] {
  return text.split("\n").filter((line) => TrailHead.safeParse(line.split(" ")[0]).success);
}

export interface HeadSignature {
  readonly fingerprint: string;
  /** Base64url. */
  readonly signature: string;
}

export interface HeadToNote {
  readonly head: TrailHead;
  readonly at: string;
  readonly signature: HeadSignature | null;
}

const lineFor = ({ head, at, signature }: HeadToNote): string =>
  signature === null ? `${head} ${at}` : signedLine({ head, at, ...signature });

/** The heads noted so far with one more, as the text of the file. */
export function anchorText(paths: BenchPaths, noted: HeadToNote | null): string {
  let entries: string[] = [];
  try {
    entries = entriesIn(readFileSync(anchorFileOf(paths), "utf8"));
  } catch {
    // The first one, or a file that was taken away: the heads it held are in the names of backups too.
  }
  const last = entries.at(-1) ?? "";
  const isThere = last.split(" ")[0] === noted?.head;
  // One that could not be signed the last time is, once it can be.
  if (isThere && noted?.signature && !last.includes(" signed ")) entries.pop();
  else if (isThere) return textOf(entries);
  if (noted !== null) entries.push(lineFor(noted));
  return textOf(entries);
}

function textOf(entries: readonly string[]): string {
  return `${[...WORDS, ...entries.slice(-MOST_HEADS)].join("\n")}\n`;
}

/** Notes beside the bench how far its trail goes, where that can be: the names of backups and every export tell it too. */
export function noteTrailHead(paths: BenchPaths, noted: HeadToNote): void {
  try {
    writeWhole(anchorFileOf(paths), anchorText(paths, noted));
  } catch {
    // A full disk or a folder that has gone is told by what wanted to be stored there.
  }
}
