import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { extractAll } from "@electron/asar";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** Electron's fuse wire as `@electron/fuses` finds it: sentinel, version 1, length, one character per fuse. */
const SENTINEL = "dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX";
/** Every fuse the other way round than the program wants it, so that one left alone is seen. */
const FUSES = "11110011";

/** What an unpacked Electron for Linux holds, as far as electron-builder looks at it; nothing of it runs. */
function fakeElectron(folder: string): string {
  const wire = Buffer.concat([Buffer.from(SENTINEL), Buffer.from([1, FUSES.length]), Buffer.from(FUSES)]);
  const files: Record<string, string | Buffer> = {
    electron: Buffer.concat([Buffer.from("\x7fELF not a program\n"), wire, Buffer.from("\n")]),
    LICENSE: "Electron's licence",
    "LICENSES.chromium.html": "<p>Chromium's licences</p>",
    version: "0.0.0",
    "locales/en-US.pak": "",
  };
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content, { mode: 0o755 });
  }
  return folder;
}

export interface PackedFile {
  readonly path: string;
  readonly bytes: number;
}

/** The program packed for Linux around a stand-in for Electron's binary. */
export interface Packed {
  /** The executable that carries the fuses. */
  readonly executable: string;
  /** The archive taken apart, native parts beside it, as the program finds them. */
  readonly application: string;
  readonly files: readonly PackedFile[];
}

/** Packs what is built in `out/` with electron-builder. @throws Error with what electron-builder said */
export function packProgram(folder: string): Packed {
  const electronDist = fakeElectron(join(folder, "electron"));
  const output = join(folder, "packed");
  const builder = join(ROOT, "node_modules", "electron-builder", "cli.js");
  const args = [
    "--linux",
    "dir",
    "--x64",
    `-c.electronDist=${electronDist}`,
    `-c.directories.output=${output}`,
  ];
  const run = spawnSync(process.execPath, [builder, ...args], { cwd: ROOT, encoding: "utf8" });
  if (run.status !== 0)
    throw new Error(`electron-builder ended with ${run.status}:\n${run.stdout}${run.stderr}`);
  const unpacked = join(output, "linux-unpacked");
  const application = join(folder, "application");
  extractAll(join(unpacked, "resources", "app.asar"), application);
  const files = readdirSync(application, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .map((path) => ({
      path: relative(application, path).replaceAll("\\", "/"),
      bytes: statSync(path).size,
    }));
  return { executable: join(unpacked, "linefall"), application, files };
}
