import { closeSync, existsSync, fdatasyncSync, openSync, writeSync } from "node:fs";
import { join } from "node:path";
import { CONDENSED, fileNameWith, stemOf, WHOLE } from "./backup-file-name.ts";
import { newestThat } from "./backup-list.ts";
import {
  type CondensedFile,
  openCondensed,
  openWhole,
  type Pages,
  pageCount,
  sha256OfPages,
} from "./condensed-file.ts";
import { PRIVATE_FILE } from "./private-files.ts";
import { failureKind } from "./store-failure.ts";

/** Bytes written before they are sent to the disk: what lies unsent would hold up the readings being stored. */
const FLUSHED_BYTES = 2 ** 20;

/** A copy that cannot be rebuilt, because of the file named. */
export class PartDamaged extends Error {
  override readonly name = "PartDamaged";
  readonly fileName: string;
  constructor(fileName: string, why: string) {
    super(`${fileName} ${why}`);
    this.fileName = fileName;
  }
}

/** The file in which a copy lies now, whole or condensed; null when it is not there. A whole one is preferred. */
export function presentFile(folder: string, stem: string): string | null {
  const forms = ([WHOLE, CONDENSED] as const).map((ending) => fileNameWith(stem, ending));
  return forms.find((name) => existsSync(join(folder, name))) ?? null;
}

/** Reads from one file of a chain. @throws PartDamaged naming it; errors of the file system as they come */
function reading<T>(fileName: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof PartDamaged) throw error;
    const kind = failureKind(error);
    if (kind !== null && kind !== "damaged") throw error;
    throw new PartDamaged(fileName, `is damaged (${error instanceof Error ? error.message : String(error)})`);
  }
}

interface Link {
  readonly fileName: string;
  readonly file: CondensedFile;
}

/** A copy with the copies that it is rebuilt from, each the next newer one that it needs. */
export interface CopyChain extends Pages {
  /** Names of the files, the copy's own first. */
  readonly fileNames: readonly string[];
  /** What the content must be; null for a whole file, of which nothing is written down. */
  readonly sha256: string | null;
  /** What the whole file at the end of the chain must hold; null where none or nothing is known of it. */
  readonly endSha256: string | null;
  close(): void;
}

/** For each page the link that holds it, -1: the whole file at the end. */
function owners(links: readonly Link[], pages: number): Int16Array {
  const owner = new Int16Array(pages).fill(-1);
  for (let at = links.length - 1; at >= 0; at -= 1) {
    const link = links[at];
    if (link === undefined) continue;
    reading(link.fileName, () => {
      for (const { first, pages: count } of link.file.runs()) owner.fill(at, first, first + count);
    });
  }
  return owner;
}

/**
 * Opens a copy for reading, whole or condensed.
 * @param at its file, where that has not its final name yet
 * @throws PartDamaged naming a part that is damaged or missing
 */
export function openCopy(folder: string, fileName: string, at = join(folder, fileName)): CopyChain {
  const links: Link[] = [];
  const open: { close(): void }[] = [];
  const close = (): void => {
    for (const one of open.splice(0)) one.close();
  };
  try {
    let [name, path]: [string, string] = [fileName, at];
    let whole: (Pages & { close(): void }) | null = null;
    for (;;) {
      if (name.endsWith(WHOLE)) {
        whole = reading(name, () => openWhole(path));
        open.push(whole);
        break;
      }
      const file = reading(name, () => openCondensed(path));
      open.push(file);
      links.push({ fileName: name, file });
      const { base } = file.facts;
      if (base === null) break;
      const next = presentFile(folder, base.stem);
      if (next === null) throw new PartDamaged(fileNameWith(base.stem, WHOLE), "is not there");
      if (links.some((link) => link.fileName === next)) throw new PartDamaged(next, "is needed by itself");
      [name, path] = [next, join(folder, next)];
    }
    const bytes = links[0]?.file.facts.bytes ?? whole?.bytes ?? 0;
    const owner = owners(links, pageCount(bytes));
    const end = whole;
    return {
      bytes,
      fileNames: end ? [...links.map((link) => link.fileName), name] : links.map((link) => link.fileName),
      sha256: links[0]?.file.facts.sha256 ?? null,
      endSha256: end ? (links.at(-1)?.file.facts.base?.sha256 ?? null) : null,
      page(number) {
        const link = links[owner[number] ?? -1];
        if (link) return reading(link.fileName, () => link.file.page(number));
        if (!end) throw new PartDamaged(name, `is damaged (its page ${number} is missing)`);
        return end.page(number);
      },
      close,
    };
  } catch (error) {
    close();
    throw error;
  }
}

function withCopy<T>(folder: string, fileName: string, use: (copy: CopyChain) => T): T {
  const copy = openCopy(folder, fileName);
  try {
    return use(copy);
  } finally {
    copy.close();
  }
}

/** Which part of a chain whose content is not as written down is to blame: the one nearest its end that differs. */
function damagedPart(folder: string, fileNames: readonly string[]): PartDamaged {
  const fault = (name: string): PartDamaged => new PartDamaged(name, "does not hold what it held");
  for (const name of fileNames.toReversed()) {
    const isAsItWas = withCopy(
      folder,
      name,
      (copy) => copy.sha256 === null || sha256OfPages(copy) === copy.sha256,
    );
    if (isAsItWas) continue;
    // All before it are as they were, but of a whole file only the copy that needs it knows.
    const end = fileNames.at(-1) ?? name;
    const isFirst = fileNames.indexOf(name) === fileNames.length - 2;
    const endDiffers =
      isFirst &&
      withCopy(folder, name, (copy) => {
        if (copy.endSha256 === null) return false;
        return withCopy(folder, end, (whole) => sha256OfPages(whole) !== copy.endSha256);
      });
    return fault(endDiffers ? end : name);
  }
  return fault(fileNames[0] ?? "");
}

/** What is the matter with a copy, and which other one does without the part to blame. */
function inWords(folder: string, fileName: string, damaged: PartDamaged): string {
  const own = stemOf(damaged.fileName) === stemOf(fileName);
  const what = own ? damaged.message : `it is rebuilt from another backup: ${damaged.message}`;
  const other = newestThat(folder, (file) => {
    if (file.fileName === fileName) return false;
    try {
      return withCopy(folder, file.fileName, (copy) =>
        copy.fileNames.every((name) => stemOf(name) !== stemOf(damaged.fileName)),
      );
    } catch {
      return false;
    }
  });
  return other === null ? what : `${what}; the newest backup that does without it is ${other.fileName}`;
}

/**
 * Writes a copy as a bench file again, and holds what was written against its SHA-256.
 * @param to a file that is not there yet
 * @returns what is wrong, in words, naming the part that is damaged; empty: it lies there whole
 * @throws errors of the file system as they come
 */
export function rebuildCopy(folder: string, fileName: string, to: string): string[] {
  try {
    withCopy(folder, fileName, (copy) => {
      writePages(copy, to);
      if (copy.sha256 === null) return;
      const written = openWhole(to);
      try {
        if (sha256OfPages(written) !== copy.sha256) throw damagedPart(folder, copy.fileNames);
      } finally {
        written.close();
      }
    });
    return [];
  } catch (error) {
    if (error instanceof PartDamaged) return [inWords(folder, fileName, error)];
    throw error;
  }
}

function writePages(copy: Pages, to: string): void {
  const handle = openSync(to, "wx", PRIVATE_FILE);
  try {
    let unsent = 0;
    let gathered: Buffer[] = [];
    const write = (): void => {
      const bytes = Buffer.concat(gathered);
      gathered = [];
      for (let done = 0; done < bytes.length; ) done += writeSync(handle, bytes, done);
      unsent += bytes.length;
      if (unsent < FLUSHED_BYTES) return;
      unsent = 0;
      fdatasyncSync(handle);
    };
    for (let number = 0; number < pageCount(copy.bytes); number += 1) {
      gathered.push(Buffer.from(copy.page(number)));
      if (gathered.length === 256) write();
    }
    write();
    fdatasyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
