import { join, posix, win32 } from "node:path";
import type { BenchPaths } from "./paths.ts";

export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly home: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/**
 * Where a person's bench lives: `LINEFALL_DATA` when set, else the place each system keeps for program data
 * (XDG Base Directory Specification 0.8 on Linux; Application Support on macOS; %APPDATA% on Windows). A
 * relative XDG_DATA_HOME is ignored, as that specification asks.
 */
export function dataFolder({ platform, home, environment }: Surroundings): string {
  const chosen = environment.LINEFALL_DATA;
  const path = platform === "win32" ? win32 : posix;
  if (chosen !== undefined && chosen !== "") return path.resolve(chosen);
  if (platform === "win32") {
    return win32.join(environment.APPDATA ?? win32.join(home, "AppData", "Roaming"), "Linefall");
  }
  if (platform === "darwin") return posix.join(home, "Library", "Application Support", "Linefall");
  const shared = environment.XDG_DATA_HOME;
  const base =
    shared !== undefined && posix.isAbsolute(shared) ? shared : posix.join(home, ".local", "share");
  return posix.join(base, "linefall");
}

/** The files of a bench inside its folder. */
export function benchPaths(folder: string): BenchPaths {
  return {
    dataFolder: folder,
    databaseFile: join(folder, "bench.sqlite"),
    backupFolder: join(folder, "backups"),
    exportFolder: join(folder, "exports"),
  };
}
