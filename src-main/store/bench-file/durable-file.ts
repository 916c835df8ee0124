import { closeSync, fsyncSync, openSync, renameSync, writeSync } from "node:fs";
import { dirname } from "node:path";

function flush(path: string): void {
  const handle = openSync(path, "r+");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** The folder's entry, too, is on disk; Windows has no such call and needs none. */
function flushFolder(folder: string): void {
  if (process.platform === "win32") return;
  const handle = openSync(folder, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** Moves a finished file to its final name, so that after a power cut there is the whole file or none. */
export function moveIntoPlace(finished: string, final: string): void {
  flush(finished);
  renameSync(finished, final);
  flushFolder(dirname(final));
}

/** Writes a small file whole or not at all. */
export function writeWhole(path: string, text: string): void {
  const partial = `${path}.partial`;
  const handle = openSync(partial, "w", 0o600);
  try {
    writeSync(handle, text);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  renameSync(partial, path);
  flushFolder(dirname(path));
}
