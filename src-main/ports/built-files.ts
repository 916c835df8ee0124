import { readdir, readFile } from "node:fs/promises";
import { extname, join } from "node:path";

/** One file of the built window, held in memory under the only path that reaches it. */
export interface BuiltFile {
  readonly body: Buffer<ArrayBuffer>;
  readonly type: string;
}
/** From `/assets/x.js` to the file; a request is looked up here and never joined to a folder. */
export type BuiltFiles = ReadonlyMap<string, BuiltFile>;

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".ico": "image/x-icon",
  ".woff2": "font/woff2",
  ".woff": "font/woff",
  ".wav": "audio/wav",
  ".txt": "text/plain; charset=utf-8",
};

export class WindowNotBuilt extends Error {
  override readonly name = "WindowNotBuilt";
}

/**
 * Reads every file of the built window.
 * @throws {WindowNotBuilt} when the folder holds no index.html, or a file of a kind no window needs
 */
export async function readBuiltWindow(folder: string): Promise<BuiltFiles> {
  const files = await readFixedFiles(folder);
  if (!files.has("/index.html")) {
    throw new WindowNotBuilt(
      `The window has not been built (no index.html in ${folder}). Run: npm run build`,
    );
  }
  return files;
}

/** Reads every file of a folder that may be served; source maps stay behind. */
export async function readFixedFiles(folder: string): Promise<BuiltFiles> {
  const files = new Map<string, BuiltFile>();
  await collect(folder, "", files);
  return files;
}

async function collect(folder: string, prefix: string, files: Map<string, BuiltFile>): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  for (const entry of entries) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) await collect(path, `${prefix}/${entry.name}`, files);
    if (!entry.isFile() || entry.name.endsWith(".map")) continue;
    const type = TYPES[extname(entry.name).toLowerCase()];
    if (type === undefined) throw new WindowNotBuilt(`${path} is of a kind the window may not load.`);
    files.set(`${prefix}/${entry.name}`, { body: await readFile(path), type });
  }
}
