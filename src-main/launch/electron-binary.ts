import { type ChildProcess, spawn } from "node:child_process";
import { closeSync, existsSync, mkdirSync, openSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** How long a start waits for the installer, which fails at once offline and goes on behind a program when slow. */
const PATIENCE_MS = 2500;
/** After a failed download the next start tries again only when this has passed. */
const RETRY_AFTER_MS = 24 * 60 * 60 * 1000;

/** What can be said of the Electron binary; `line` is for the person. */
export type ElectronBinary =
  | { readonly path: string; readonly line: null }
  | { readonly path: null; readonly line: string };

/**
 * The Electron binary among the installed packages. The package itself is never imported: importing it would start a
 * download.
 */
export function installedElectron(packages: string): string | null {
  try {
    const folder = join(packages, "electron");
    const name = readFileSync(join(folder, "path.txt"), "utf8").trim();
    const path = join(folder, "dist", name);
    return name !== "" && existsSync(path) ? path : null;
  } catch {
    return null;
  }
}

export interface FetchOptions {
  /** The folder node_modules. */
  readonly packages: string;
  /** Keeps the installer's output, and with it the time of the last try. */
  readonly logFile: string;
  /** False where nothing may be fetched (`LINEFALL_FETCH_ELECTRON=0`). */
  readonly mayFetch: boolean;
  readonly patience?: number;
}

/** The installed binary, or what its own installer brings within a few seconds. */
export async function electronBinary(options: FetchOptions): Promise<ElectronBinary> {
  const installed = installedElectron(options.packages);
  if (installed !== null) return { path: installed, line: null };
  const instead = "the same program opens in a browser window";
  if (!options.mayFetch) return { path: null, line: `Electron is not installed here: ${instead}.` };
  const installer = join(options.packages, "electron", "install.js");
  if (!existsSync(installer)) return { path: null, line: `The package electron is missing: ${instead}.` };
  if (triedRecently(options.logFile)) {
    return { path: null, line: `Electron could not be fetched today (${options.logFile}): ${instead}.` };
  }
  const outcome = await runInstaller(installer, options.logFile, options.patience ?? PATIENCE_MS);
  const fetched = installedElectron(options.packages);
  if (fetched !== null) return { path: fetched, line: null };
  return outcome === "running"
    ? { path: null, line: `Electron is still being fetched, for the next start; this time ${instead}.` }
    : { path: null, line: `Electron could not be fetched (${options.logFile}): ${instead}.` };
}

function triedRecently(logFile: string): boolean {
  try {
    return Date.now() - statSync(logFile).mtimeMs < RETRY_AFTER_MS;
  } catch {
    return false;
  }
}

/** Starts the installer on its own, so that a slow download goes on behind the program that is opened meanwhile. */
function runInstaller(installer: string, logFile: string, patience: number): Promise<"ended" | "running"> {
  mkdirSync(join(logFile, ".."), { recursive: true });
  const log = openSync(logFile, "w");
  const child: ChildProcess = spawn(process.execPath, [installer], {
    stdio: ["ignore", log, log],
    detached: true,
  });
  closeSync(log);
  child.unref();
  return new Promise((resolve) => {
    const waiting = setTimeout(() => resolve("running"), patience);
    const end = () => {
      clearTimeout(waiting);
      resolve("ended");
    };
    child.on("exit", end);
    child.on("error", end);
  });
}
