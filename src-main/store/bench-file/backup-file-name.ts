import type { BackupFile } from "#core/contract/records/trail.ts";

export type BackupReason = BackupFile["why"];

const WORDS: Readonly<Record<BackupReason, string>> = {
  daily: "daily",
  "on request": "on-request",
  "before migration": "before-migration",
  "hand-over": "hand-over",
};
/** So many digits of the head's hash tell one history from another. */
const HASH_DIGITS = 16;
const PATTERN =
  /^bench-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)(\d{3})Z-(daily|on-request|before-migration|hand-over)(?:-(\d{9})-([0-9a-f]{16}))?\.(?:sqlite|condensed)$/;

/** Endings: a bench file that any program for SQLite opens; one that holds what differs from another copy. */
export const WHOLE = ".sqlite";
export const CONDENSED = ".condensed";

/** The name of a copy without its ending: the same whichever form it lies in. */
export const stemOf = (fileName: string): string => fileName.replace(/\.(?:sqlite|condensed)$/, "");

export const fileNameWith = (stem: string, ending: typeof WHOLE | typeof CONDENSED): string => stem + ending;

/**
 * `bench-20260131T093205123Z-daily-000000412-9f86d081884c7d65.sqlite`: when, why, and the newest line of the trail in it.
 * @param head sequence and hash of that line; null where the bench has none
 */
export function backupFileName(madeAt: string, why: BackupReason, head: BackupFile["head"]): string {
  const line =
    head === null
      ? ""
      : `-${String(head.sequence).padStart(9, "0")}-${head.hash.slice(0, HASH_DIGITS).padEnd(HASH_DIGITS, "0")}`;
  return `bench-${madeAt.replace(/[-:.]/g, "")}-${WORDS[why]}${line}.sqlite`;
}

/** What a name of that form, or of a condensed copy, says; null for any other file. */
export function readBackupFileName(fileName: string): Pick<BackupFile, "madeAt" | "why" | "head"> | null {
  const match = PATTERN.exec(fileName);
  if (!match) return null;
  const [, year, month, day, hour, minute, second, milli, word, sequence, hash] = match;
  const why = (Object.keys(WORDS) as BackupReason[]).find((reason) => WORDS[reason] === word);
  if (!why) return null;
  const head = sequence === undefined || hash === undefined ? null : { sequence: Number(sequence), hash };
  return { madeAt: `${year}-${month}-${day}T${hour}:${minute}:${second}.${milli}Z`, why, head };
}
