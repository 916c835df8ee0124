import { closeSync, existsSync, fstatSync, ftruncateSync, openSync, renameSync, rmSync } from "node:fs";
import { pauseHere } from "./give-way.ts";

/** A large file that goes all at once held up an entry on the same disk by 40 ms (`bench -- long-life`). */
const PIECE_BYTES = 8 * 2 ** 20;
const PAUSE_MS = 5;

/**
 * Removes a file from its end on, with pauses in which others reach the disk; for a process nobody waits for. It loses
 * its name first: a kill leaves a `.partial` that the next start takes away, and no half file under the old name.
 * @throws errors of the file system, but for a file that is not there
 */
export function removeByPieces(path: string): void {
  if (!existsSync(path)) return;
  const going = `${path}.going.partial`;
  renameSync(path, going);
  const handle = openSync(going, "r+");
  try {
    for (let left = fstatSync(handle).size - PIECE_BYTES; left > 0; left -= PIECE_BYTES) {
      ftruncateSync(handle, left);
      pauseHere(PAUSE_MS);
    }
  } finally {
    closeSync(handle);
  }
  rmSync(going, { force: true });
}
