import { closeSync, fdatasync, openSync } from "node:fs";

/** Bytes after which what was written is sent to the disk. */
const FLUSHED_BYTES = 2 ** 20;
/** Bytes that may lie unsent: so much holds up the last flush, and with it every reading being stored. */
const MOST_UNSENT_BYTES = 4 * 2 ** 20;

/** Sends what a growing file holds to the disk beside the program, so that little is left for the end. */
export interface GrowingFile {
  /** @returns false while so much lies unsent that nothing more should be written */
  grewTo(bytes: number): boolean;
  close(): Promise<void>;
}

/** @param path of a file that will be there when it first grows */
export function flushAsItGrows(path: string): GrowingFile {
  let handle: number | null = null;
  let sent = 0;
  let flushing: Promise<void> | null = null;
  return {
    grewTo(bytes) {
      if (flushing === null && bytes - sent >= FLUSHED_BYTES) {
        handle ??= openSync(path, "r+");
        const { promise, resolve } = Promise.withResolvers<void>();
        // A failure shows where the file is written.
        fdatasync(handle, () => {
          sent = bytes;
          flushing = null;
          resolve();
        });
        flushing = promise;
      }
      return bytes - sent < MOST_UNSENT_BYTES;
    },
    async close() {
      await flushing;
      if (handle !== null) closeSync(handle);
    },
  };
}
