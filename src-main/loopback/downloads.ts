import { randomUUID } from "node:crypto";
import { join } from "node:path";

export interface DownloadFile {
  readonly fileName: string;
  readonly path: string;
}

/** The exported files a window of this run may fetch: from an address made here to a file, and nothing else. */
export interface Downloads {
  /** @returns the address relative to the window, such as `/export/0b7c…` */
  addressFor(fileName: string): string;
  /** @param address as requested; only those handed out are known */
  find(address: string): DownloadFile | null;
}

/** @param folder where the program writes its exports */
export function createDownloads(folder: string): Downloads {
  const download = new Map<string, DownloadFile>();
  return {
    addressFor(fileName) {
      const address = `/export/${randomUUID()}`;
      download.set(address, { fileName, path: join(folder, fileName) });
      return address;
    },
    find: (address) => download.get(address) ?? null,
  };
}
