import { closeSync, openSync, rmSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import type { BackupFile } from "#core/contract/records/trail.ts";
import type { CopyOrder } from "../../ports/copy-work.ts";
import { type BackupReason, CONDENSED, fileNameWith, stemOf, WHOLE } from "./backup-file-name.ts";
import { listBackups } from "./backup-list.ts";
import { openCondensed, sha256OfPages, writeCondensed } from "./condensed-file.ts";
import { openCopy, PartDamaged, presentFile } from "./copy-chain.ts";
import { moveIntoPlace } from "./durable-file.ts";
import { PRIVATE_FILE } from "./private-files.ts";
import { removeByPieces } from "./remove-by-pieces.ts";
import { failureKind } from "./store-failure.ts";

type CondenseOrder = Extract<CopyOrder, { kind: "condense" }>;
type MadeByItself = Exclude<BackupReason, "on request" | "hand-over">;

/** How many copies of a kind are kept; copies asked for by a person are never removed. */
const KEPT: Readonly<Record<MadeByItself, number>> = {
  daily: 14,
  "before migration": 6,
};

/** Among so many copies after the newest one stands alone, so that no damage to one file reaches all of them. */
const COPIES_WITH_ONE_ALONE = 14;

/** The copies to remove: of one day only the newest daily one stays, and of each kind a number. */
function surplusOf(files: readonly BackupFile[], why: MadeByItself): BackupFile[] {
  const ofKind = files.filter((file) => file.why === why);
  const days = ofKind.map((file) => file.madeAt.slice(0, 10));
  const kept = why === "daily" ? ofKind.filter((_, i) => days.indexOf(days[i] ?? "") === i) : ofKind;
  const staying = new Set(kept.slice(0, KEPT[why]));
  return ofKind.filter((file) => !staying.has(file));
}

interface Lying {
  readonly file: BackupFile;
  readonly stem: string;
  /** Name without ending of the copy that it needs; null when it stands alone. */
  readonly needs: string | null;
  readonly isWhole: boolean;
  /** A condensed one that cannot be read. */
  readonly isDamaged: boolean;
}

function lying(folder: string, file: BackupFile): Lying {
  const stem = stemOf(file.fileName);
  if (file.fileName.endsWith(WHOLE)) return { file, stem, needs: null, isWhole: true, isDamaged: false };
  try {
    const condensed = openCondensed(join(folder, file.fileName));
    const needs = condensed.facts.base?.stem ?? null;
    condensed.close();
    return { file, stem, needs, isWhole: false, isDamaged: false };
  } catch (error) {
    const kind = failureKind(error);
    if (kind !== null && kind !== "damaged") throw error;
    return { file, stem, needs: null, isWhole: false, isDamaged: true };
  }
}

function remove(folder: string, stem: string): void {
  for (const ending of [WHOLE, CONDENSED] as const) removeByPieces(join(folder, fileNameWith(stem, ending)));
}

/** Removes, the oldest first, what is to leave and no copy needs. @returns what is to leave and is still needed */
function removeUnneeded(folder: string, leaving: readonly Lying[], staying: readonly Lying[]): Lying[] {
  const there = new Set([...staying, ...leaving]);
  for (const one of leaving.toReversed()) {
    if ([...there].some((other) => other.needs === one.stem)) continue;
    remove(folder, one.stem);
    there.delete(one);
  }
  return leaving.filter((one) => there.has(one));
}

/** What the copies that need a whole file say it must hold. */
function heldBefore(folder: string, stem: string, others: readonly Lying[]): string | null {
  const needing = others.find((one) => one.needs === stem);
  if (!needing) return null;
  const file = openCondensed(join(folder, needing.file.fileName));
  try {
    return file.facts.base?.sha256 ?? null;
  } finally {
    file.close();
  }
}

/**
 * Sets a condensed copy in the place of what holds the copy now, and holds it against that before anything goes.
 * @param newer the copy from which its differences are kept; null: it shall stand alone
 * @returns the file that is not what it was, in words, and nothing has changed then; null: it is done
 */
function condenseOne(
  folder: string,
  one: Lying,
  newer: Lying | null,
  others: readonly Lying[],
): string | null {
  try {
    setCondensed(folder, one, newer, others);
    return null;
  } catch (error) {
    if (error instanceof PartDamaged) return error.message;
    throw error;
  }
}

function setCondensed(folder: string, one: Lying, newer: Lying | null, others: readonly Lying[]): void {
  const final = join(folder, fileNameWith(one.stem, CONDENSED));
  const partial = `${final}.${process.pid}.partial`;
  rmSync(partial, { force: true });
  const copy = openCopy(folder, one.file.fileName);
  const base =
    newer === null ? null : openCopy(folder, presentFile(folder, newer.stem) ?? newer.file.fileName);
  try {
    const written = writeCondensed(partial, copy, base && newer ? { stem: newer.stem, pages: base } : null);
    const known = copy.sha256 ?? heldBefore(folder, one.stem, others);
    if (known !== null && known !== written.sha256) throw new PartDamaged(one.file.fileName, DIFFERS);
    if (base && newer && base.sha256 !== null && base.sha256 !== written.baseSha256) {
      throw new PartDamaged(newer.file.fileName, DIFFERS);
    }
    const again = openCopy(folder, fileNameWith(one.stem, CONDENSED), partial);
    try {
      if (sha256OfPages(again) !== written.sha256)
        throw new PartDamaged(one.file.fileName, "came out otherwise");
    } finally {
      again.close();
    }
    copy.close();
    moveIntoPlace(partial, final);
    removeByPieces(join(folder, fileNameWith(one.stem, WHOLE)));
  } finally {
    copy.close();
    base?.close();
    rmSync(partial, { force: true });
  }
}

const DIFFERS = "does not hold what it held";

/** From what a copy's differences may be kept, the best first; null: the copy stands alone. */
function waysToCondense(now: readonly Lying[], at: number): (Lying | null)[] {
  const newer = now.slice(0, at).findLast(({ isDamaged }) => !isDamaged);
  if (newer === undefined) return [];
  const near = now.slice(1, COPIES_WITH_ONE_ALONE + 1);
  const hasOneAlone = near.some(({ isWhole, isDamaged, needs }) => !isWhole && !isDamaged && needs === null);
  // Where the newer one turns out damaged, this one is kept without it.
  return at <= COPIES_WITH_ONE_ALONE && !hasOneAlone ? [null] : [newer, null];
}

function condenseUnderLock(folder: string, made: string): string[] {
  const files = listBackups(folder).filter(({ why }) => why !== "hand-over");
  const surplus = new Set([...surplusOf(files, "daily"), ...surplusOf(files, "before migration")]);
  // After an older copy was restored the bench comes by lines that others hold already: its copy stays all the same.
  for (const file of files) if (file.fileName === made) surplus.delete(file);
  const all = files.map((file) => lying(folder, file));
  const now = all.filter(({ file }) => !surplus.has(file));
  const unwanted = all.filter(({ file }) => surplus.has(file));
  const leaving = removeUnneeded(folder, unwanted, now);
  const faults = new Set<string>();
  for (const [at, one] of [...now.entries()]) {
    const losesItsBase = leaving.some(({ stem }) => stem === one.needs);
    if (one.isDamaged || !(one.isWhole || losesItsBase)) continue;
    for (const under of waysToCondense(now, at)) {
      const damaged = condenseOne(folder, one, under, [...now, ...leaving]);
      if (damaged === null) {
        now[at] = { ...one, needs: under?.stem ?? null, isWhole: false };
        break;
      }
      faults.add(`A backup is damaged: ${damaged}.`);
    }
  }
  removeUnneeded(folder, leaving, now);
  return [...faults];
}

/**
 * Makes the older backups of a folder small and removes those beyond the number kept. The newest stays a bench file; of an
 * older one only what differs from the next newer is kept, and one among them keeps all it holds. Every step is a file
 * written, held against what it stands for and renamed, and only then the old one removed: after a kill at any moment
 * every copy can be rebuilt, and the next time goes on from there.
 * @returns what was found damaged on the way and left as it is, in words
 * @throws errors of the file system; nothing is lost then
 */
export function condense({ folder, lockFile, made }: CondenseOrder): string[] {
  closeSync(openSync(lockFile, "a", PRIVATE_FILE));
  // As the lock of the bench: it is given back when the process ends in any way.
  const lock = new Database(lockFile, { timeout: 0 });
  try {
    lock.exec("BEGIN IMMEDIATE");
    return condenseUnderLock(folder, made);
  } catch (error) {
    // Another process is at it, as one that outlived its host: what it leaves is done the next time.
    if (failureKind(error) === "busy") return [];
    throw error;
  } finally {
    lock.close();
  }
}
