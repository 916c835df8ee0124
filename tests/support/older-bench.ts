import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";

const OLDER = fileURLToPath(new URL("../main/older-benches/0.1.0", import.meta.url));

/** Lays a bench as version 0.1.0 of the program left it into a folder. */
export function layOlderBench(folder: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "bench.sqlite"), gunzipSync(readFileSync(join(OLDER, "bench.sqlite.gz"))));
  cpSync(join(OLDER, "attachments"), join(folder, "attachments"), { recursive: true });
}
