import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { join, posix, win32 } from "node:path";
import type { BenchPaths } from "./paths.ts";

export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly home: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/** Where each system keeps programs' data for one person and this machine. */
function dataRoot({ platform, home, environment }: Surroundings): string {
  if (platform === "win32") return environment.LOCALAPPDATA ?? win32.join(home, "AppData", "Local");
  if (platform === "darwin") return posix.join(home, "Library", "Application Support");
  const shared = environment.XDG_DATA_HOME;
  return shared !== undefined && posix.isAbsolute(shared) ? shared : posix.join(home, ".local", "share");
}

/**
 * Where a person's bench lives: `LINEFALL_DATA` when set, else the place each system keeps for program data (XDG Base
 * Directory Specification 0.8 on Linux; Application Support on macOS; %LOCALAPPDATA% on Windows, which stays on this
 * machine). A relative XDG_DATA_HOME is ignored, as that specification asks. A bench that an earlier version put into the
 * roaming folder of Windows stays there, as long as there is none in the local one.
 * @param hasBench whether a folder holds a bench
 */
export function dataFolder(surroundings: Surroundings, hasBench = holdsBench): string {
  const { platform, home, environment } = surroundings;
  const chosen = environment.LINEFALL_DATA;
  const path = platform === "win32" ? win32 : posix;
  if (chosen !== undefined && chosen !== "") return path.resolve(chosen);
  const folder = path.join(dataRoot(surroundings), PROGRAM_FOLDER[platform] ?? "linefall");
  if (platform !== "win32") return folder;
  const roaming = win32.join(environment.APPDATA ?? win32.join(home, "AppData", "Roaming"), "Linefall");
  return !hasBench(folder) && hasBench(roaming) ? roaming : folder;
}

const PROGRAM_FOLDER: Partial<Record<NodeJS.Platform, string>> = { win32: "Linefall", darwin: "Linefall" };

function holdsBench(folder: string): boolean {
  // What marks a folder whose bench has gone counts too: that bench must be missed, not begun anew elsewhere.
  return ["bench.sqlite", "bench.sqlite.known"].some((name) => existsSync(join(folder, name)));
}

/**
 * Where the window of a bench keeps what is no part of the bench (caches, position, settings of the browser engine):
 * apart from the bench, so that copying or backing up the one never carries the other.
 * @param bench the bench's folder, links followed; each bench has its own
 */
export function windowProfileFolder(surroundings: Surroundings, bench: string): string {
  const path = surroundings.platform === "win32" ? win32 : posix;
  const name =
    surroundings.platform === "win32" || surroundings.platform === "darwin"
      ? "Linefall Window"
      : "linefall-window";
  const own = createHash("sha256").update(bench).digest("hex").slice(0, 16);
  return path.join(dataRoot(surroundings), name, own);
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
