import { existsSync, rmSync } from "node:fs";
import type { BenchPaths } from "../../ports/paths.ts";
import { writeWhole } from "./durable-file.ts";

function markerOf(paths: BenchPaths): string {
  return `${paths.databaseFile}.known`;
}

/** True when a bench has been opened here before: then an absent or empty database file is a loss, not a beginning. */
export function benchIsKnown(paths: BenchPaths): boolean {
  return existsSync(markerOf(paths));
}

/** Remembers, beside the database, that there is a bench here. */
export function rememberBench(paths: BenchPaths, since: string): void {
  if (!benchIsKnown(paths)) writeWhole(markerOf(paths), `${JSON.stringify({ bench: true, since })}\n`);
}

/** After the person chose to begin with an empty bench. */
export function forgetBench(paths: BenchPaths): void {
  rmSync(markerOf(paths), { force: true });
}
