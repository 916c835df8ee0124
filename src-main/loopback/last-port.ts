import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PRIVATE_FILE } from "../store/bench-file/private-files.ts";

const FILE_NAME = "last-port";

/**
 * The port this bench was served on last; 0 where there was none. A window keeps what is not stored yet under its
 * address: at the same address it finds it again.
 */
export async function lastPort(folder: string): Promise<number> {
  const text = await readFile(join(folder, FILE_NAME), "utf8").catch(() => "");
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  return port <= 65_535 ? port : 0;
}

/** Notes the port for the next start. A note that cannot be written costs no more than another address. */
export async function noteLastPort(folder: string, address: string): Promise<void> {
  const { port } = new URL(address);
  await writeFile(join(folder, FILE_NAME), port, { mode: PRIVATE_FILE }).catch(() => undefined);
}
