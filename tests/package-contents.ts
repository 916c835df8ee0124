import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { printTable } from "./bench/print-table.ts";
import { type PackedFile, packProgram } from "./support/packed-program.ts";

/** Prints what a package of the program holds beside Electron's own files, and how large it is. */
const folder = mkdtempSync(join(tmpdir(), "linefall-package-"));
const GROUPS: readonly (readonly [what: string, path: RegExp])[] = [
  ["main process and service process", /^out\/main\//],
  ["preload", /^out\/preload\//],
  ["window: fonts", /^out\/renderer\/.*\.woff2?$/],
  ["window: everything else", /^out\/renderer\//],
  ["database, native part", /\.node$/],
  ["database, its JavaScript and licence", /^node_modules\/better-sqlite3\//],
  ["icon, notices, package.json", /^(resources\/|package\.json$)/],
];
try {
  const { files } = packProgram(folder);
  const left = [...files];
  const line = (what: string, some: readonly PackedFile[]) => [
    what,
    String(some.length),
    (some.reduce((sum, { bytes }) => sum + bytes, 0) / 1e6).toFixed(2),
  ];
  const lines = GROUPS.map(([what, path]) => {
    const some = left.filter((file) => path.test(file.path));
    for (const file of some) left.splice(left.indexOf(file), 1);
    return line(what, some);
  });
  printTable(
    ["in a package for Linux, without Electron", "files", "MB"],
    [...lines, line("anything else", left), line("together", files)],
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
