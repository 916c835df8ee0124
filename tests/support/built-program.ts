import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** Builds the program where no `npm run build` has; `npm test` builds before. @returns the built main process */
export function buildOnce(): string {
  const main = join(ROOT, "out", "main", "main.js");
  const window = join(ROOT, "out", "renderer", "index.html");
  if (!existsSync(main) || !existsSync(window))
    spawnSync("npm", ["run", "--silent", "build"], { cwd: ROOT, shell: process.platform === "win32" });
  return main;
}
