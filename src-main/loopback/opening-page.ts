import { createHash } from "node:crypto";
import { mkdir, readdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

/**
 * How a launched browser is told its one-time address: by a page on disk that leads there and that only the person can
 * read. Arguments of a process can be read by everybody on the machine.
 */
const PREFIX = "open-window-";

function nameFor(address: string): string {
  const token = new URL(address).hash.slice(1);
  return `${PREFIX}${createHash("sha256").update(token).digest("hex").slice(0, 16)}.html`;
}

/** @returns the address of a page that leads to `address`, and holds it as nothing else does */
export async function writeOpeningPage(folder: string, address: string): Promise<string> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const path = join(folder, nameFor(address));
  const html = `<!doctype html><meta charset="utf-8"><title>Linefall</title><meta http-equiv="refresh" content="0;url=${address}">\n`;
  await rm(path, { force: true });
  // A new file, never one that lies there: its rights are ours from the first byte on.
  await writeFile(path, html, { mode: 0o600, flag: "wx" });
  return pathToFileURL(path).href;
}

/** Takes away the page of an address that has been used. */
export async function removeOpeningPage(folder: string, address: string): Promise<void> {
  await rm(join(folder, nameFor(address)), { force: true });
}

/** Takes away what earlier runs left. */
export async function removeOpeningPages(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names.filter((one) => one.startsWith(PREFIX))) {
    await rm(join(folder, name), { force: true });
  }
}
