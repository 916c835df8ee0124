import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { isDemoFolder, isThere, markDemoFolder } from "./demo-mark.ts";
import { benchPaths } from "./ports/data-folder.ts";

export interface ThrowawayFolder {
  readonly folder: string;
  remove(): Promise<void>;
}

/** A folder of this user's own for a bench that nobody keeps. */
export async function makeThrowawayFolder(): Promise<ThrowawayFolder> {
  const folder = await mkdtemp(join(tmpdir(), "linefall-demo-"));
  return {
    folder,
    // A browser that is just closing may still write to its profile.
    remove: () => rm(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 }),
  };
}

/**
 * Builds the demonstration bench in a folder that has none; one that is there already is left as it is.
 * @throws {Error} with a sentence for the person when the folder holds a real bench
 */
export async function ensureDemoBench(folder: string, log: (line: string) => void): Promise<void> {
  const paths = benchPaths(folder);
  if (await isDemoFolder(folder)) return;
  if (await isThere(paths.databaseFile)) {
    throw new Error(`${folder} holds a real bench: choose an empty folder for the demonstration.`);
  }
  log("Building the invented demonstration bench…");
  await mkdir(folder, { recursive: true, mode: 0o700 });
  // Marked first: whatever happens meanwhile, nothing invented is ever taken for real.
  await markDemoFolder(folder);
  // Loaded when it is wanted only: an ordinary start does not wait for it.
  const { buildDemoBench } = await import("./demo/build-demo.ts");
  await buildDemoBench(paths);
}
