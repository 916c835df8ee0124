import type { BackupFile } from "#core/contract/records/trail.ts";

export type BackupReason = BackupFile["why"];

const WORDS: Readonly<Record<BackupReason, string>> = {
  daily: "daily",
  "on request": "on-request",
  "before migration": "before-migration",
  "hand-over": "hand-over",
};
const PATTERN =
  /^bench-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)(\d{3})Z-(daily|on-request|before-migration|hand-over)\.sqlite$/;

/** `bench-20260131T093205123Z-daily.sqlite`: sorts by age and says all there is to say. */
export function backupFileName(madeAt: string, why: BackupReason): string {
  return `bench-${madeAt.replace(/[-:.]/g, "")}-${WORDS[why]}.sqlite`;
}

/** What a name of that form says; null for any other file. */
export function readBackupFileName(fileName: string): { madeAt: string; why: BackupReason } | null {
  const match = PATTERN.exec(fileName);
  if (!match) return null;
  const [, year, month, day, hour, minute, second, milli, word] = match;
  const why = (Object.keys(WORDS) as BackupReason[]).find((reason) => WORDS[reason] === word);
  return why ? { madeAt: `${year}-${month}-${day}T${hour}:${minute}:${second}.${milli}Z`, why } : null;
}
