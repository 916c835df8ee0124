import { closeSync, fdatasync, openSync } from "node:fs";

/** Bytes after which what was written is sent to the disk: so much a reading being stored may have to wait for. */
export const FLUSHED_BYTES = 2 ** 18;
/** Bytes that may lie unsent. */
const MOST_UNSENT_BYTES = 4 * FLUSHED_BYTES;
/** After each flush the disk is left to others for so many times as long as it took … */
const LEFT_TO_OTHERS = 3;
/** … and no longer than this: on a slow disk a copy would take a quarter of an hour. */
const MOST_PAUSE_MS = 25;

/** How long the disk is left to others after a flush. @param begun instant of its beginning, of `performance.now` */
export const pauseAfter = (begun: number): number =>
  Math.min(MOST_PAUSE_MS, (performance.now() - begun) * LEFT_TO_OTHERS);

/** Sends what a growing file holds to the disk beside the program, so that little is left for the end. */
export interface GrowingFile {
  /** @returns false while so much lies unsent that nothing more should be written */
  grewTo(bytes: number): boolean;
  close(): Promise<void>;
}

/** @param path of a file that will be there when it first grows */
export function flushAsItGrows(path: string, { isUrgent = false } = {}): GrowingFile {
  let handle: number | null = null;
  let sent = 0;
  let flushing: Promise<void> | null = null;
  return {
    grewTo(bytes) {
      if (flushing === null && bytes - sent >= FLUSHED_BYTES) {
        handle ??= openSync(path, "r+");
        const { promise, resolve } = Promise.withResolvers<void>();
        const begun = performance.now();
        // A failure shows where the file is written.
        fdatasync(handle, () => {
          sent = bytes;
          setTimeout(
            () => {
              flushing = null;
              resolve();
            },
            isUrgent ? 0 : pauseAfter(begun),
          );
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
