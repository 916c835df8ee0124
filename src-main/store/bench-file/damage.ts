import { readdirSync } from "node:fs";
import { basename, join } from "node:path";
import type { BenchPaths } from "../../ports/paths.ts";
import { newestThat } from "./backup-list.ts";
import type { RecoveryOffer } from "./bench-unopenable.ts";
import { copyFaults } from "./copy-work-here.ts";

function inWords(instant: string): string {
  return instant.slice(0, 16).replace("T", " ");
}

/** `20260331T094500123Z` as `2026-03-31 09:45`. */
function dayAndTime(stamp: string): string {
  return stamp.replace(/^(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d).*$/, "$1-$2-$3 $4:$5");
}

function newestGoodCopy({ backupFolder }: BenchPaths): RecoveryOffer[] {
  const good = newestThat(backupFolder, (file) => copyFaults(join(backupFolder, file.fileName)).length === 0);
  if (!good) return [];
  const words = `Go on with the backup of ${inWords(good.madeAt)} UTC (${good.why}), which passed its check.`;
  return [{ kind: "restore", fileName: good.fileName, madeAt: good.madeAt, words }];
}

/** The file that a restore kept aside, when it passes its check: a kill in older programs could leave only that. */
function newestKeptAside({ dataFolder, databaseFile }: BenchPaths): RecoveryOffer[] {
  const start = `${basename(databaseFile)}.before-restore-`;
  const names = readdirSync(dataFolder).filter((name) => name.startsWith(start) && name.endsWith("Z"));
  const fileName = names.sort().findLast((name) => copyFaults(join(dataFolder, name)).length === 0);
  if (fileName === undefined) return [];
  const since = dayAndTime(fileName.slice(start.length));
  const words = `Go on with the bench as it was kept aside on ${since} UTC, before a backup was restored.`;
  return [{ kind: "put-back", fileName, words }];
}

/** The ways out of a bench that cannot be opened, the one that keeps most first. */
export function recoveryOffers(paths: BenchPaths): RecoveryOffer[] {
  return [
    ...newestGoodCopy(paths),
    ...newestKeptAside(paths),
    { kind: "start-empty", words: "Begin with an empty bench. The present file is kept." },
  ];
}
