import { randomUUID } from "node:crypto";
import { join } from "node:path";

export interface ShelvedFile {
  readonly fileName: string;
  readonly path: string;
}

/** The exported files a window of this run may fetch: from an address made here to a file, and nothing else. */
export interface ExportShelf {
  /** @returns the address relative to the window, such as `/export/0b7c…` */
  addressFor(fileName: string): string;
  /** @param address as requested; only those handed out are known */
  find(address: string): ShelvedFile | null;
}

/** @param folder where the program writes its exports */
export function createExportShelf(folder: string): ExportShelf {
  const shelved = new Map<string, ShelvedFile>();
  return {
    addressFor(fileName) {
      const address = `/export/${randomUUID()}`;
      shelved.set(address, { fileName, path: join(folder, fileName) });
      return address;
    },
    find: (address) => shelved.get(address) ?? null,
  };
}
