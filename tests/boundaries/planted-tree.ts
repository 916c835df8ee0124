import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));
export const BIN = join(ROOT, "node_modules", ".bin");

/** What the tools are set up by; the planted tree is judged by exactly these. */
const SETTINGS = [
  "package.json",
  "tsconfig.json",
  ".biome.json",
  ".dependency-cruiser.mjs",
  "src-core/tsconfig.json",
  "src-main/tsconfig.json",
  "src-renderer/tsconfig.json",
];

export interface PlantedTree {
  readonly folder: string;
  remove(): void;
}

/**
 * A tree of a few files under the project's own tool settings. Packages named in `packages` exist as empty shells, so
 * that an import of them can be resolved without being installed.
 */
export function plantTree(
  files: Readonly<Record<string, string>>,
  packages: readonly string[] = [],
): PlantedTree {
  const folder = mkdtempSync(join(tmpdir(), "linefall-planted-"));
  const put = (path: string, text: string) => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  for (const path of SETTINGS) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    cpSync(join(ROOT, path), join(folder, path));
  }
  // Biome reads its ignore list from the repository; without one it stops.
  put(".gitignore", "node_modules/\n.cache/\n");
  for (const name of packages) {
    put(`node_modules/${name}/package.json`, JSON.stringify({ name, version: "1.0.0", main: "main.js" }));
    put(`node_modules/${name}/main.js`, "");
    put(`node_modules/${name}/main.d.ts`, "export declare const thing: unknown;\n");
  }
  mkdirSync(join(folder, "node_modules"), { recursive: true });
  // The types that the folders' settings name.
  for (const name of ["@types", "vite"]) {
    symlinkSync(join(ROOT, "node_modules", name), join(folder, "node_modules", name));
  }
  for (const [path, text] of Object.entries(files)) put(path, text);
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
