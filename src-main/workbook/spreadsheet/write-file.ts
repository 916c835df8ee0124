import { createWriteStream } from "node:fs";
import { mkdir, open, rename, rm, stat } from "node:fs/promises";
import { dirname } from "node:path";
import type { Writable } from "node:stream";
import { temporaryBeside } from "../../temporary-file.ts";

/** Makes a folder entry (a rename) durable. Windows cannot open a folder for this; there the file's own sync must do. */
async function syncFolder(folder: string): Promise<void> {
  if (process.platform === "win32") return;
  const handle = await open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Flushes what was written to the disk. */
async function syncFile(path: string): Promise<void> {
  const handle = await open(path, "r+");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/**
 * Writes a file so that under its name there is either the old file or the whole new one: a temporary file in the same
 * folder is filled, flushed, checked and then renamed. Whatever fails, the temporary file goes and the old one stays.
 * @param fill writes to the stream and resolves when everything has been handed over
 * @param check reads the temporary file back; throws when it is not as meant
 * @returns the size in bytes
 */
export async function writeFileWhole(
  path: string,
  fill: (stream: Writable) => Promise<void>,
  check: (temporary: string) => Promise<void>,
): Promise<number> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  const temporary = temporaryBeside(path);
  // Whoever cannot look into the folder has nothing to read in its files.
  const mode = (await stat(folder)).mode & 0o666;
  const stream = createWriteStream(temporary, { flags: "wx", mode });
  // The writer may be waiting for a stream that has died: whichever comes first ends the wait.
  const ended = new Promise<void>((resolve, reject) => {
    stream.once("error", reject);
    stream.once("close", resolve);
  });
  try {
    await Promise.race([fill(stream), ended.then(() => refuseEarlyEnd(stream))]);
    if (!stream.writableEnded) stream.end();
    await ended;
    await syncFile(temporary);
    await check(temporary);
    const { size } = await stat(temporary);
    await rename(temporary, path);
    await syncFolder(folder);
    return size;
  } catch (error) {
    stream.destroy();
    await rm(temporary, { force: true });
    throw error;
  }
}

function refuseEarlyEnd(stream: Writable): void {
  if (!stream.writableFinished)
    throw new Error("The file was closed before everything had been written to it.");
}

/** Bytes that are all here, written whole or not at all. @returns the size in bytes */
export function writeBytesWhole(path: string, bytes: Uint8Array): Promise<number> {
  const fill = async (stream: Writable): Promise<void> => void stream.end(bytes);
  return writeFileWhole(path, fill, async () => undefined);
}
