import { type ChildProcess, spawn } from "node:child_process";
import { closeSync, existsSync, mkdirSync, openSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { readProgress } from "./fetch-progress.ts";

/** How long a start waits for the installer, which fails at once offline and goes on behind a program when slow. */
const PATIENCE_MS = 2500;
/** Where nothing could be fetched at all, the next start tries again only when this has passed. */
const RETRY_AFTER_MS = 24 * 60 * 60 * 1000;

const FETCH = fileURLToPath(new URL("fetch-electron.ts", import.meta.url));

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
  /** How far the download is. */
  readonly progressFile: string;
  readonly patience?: number;
}

const INSTEAD = "the same program opens in a browser window";

/** The installed binary, or what its own installer brings within a few seconds. */
export async function electronBinary(options: FetchOptions): Promise<ElectronBinary> {
  const installed = installedElectron(options.packages);
  if (installed !== null) return { path: installed, line: null };
  const installer = join(options.packages, "electron", "install.js");
  if (!existsSync(installer)) return { path: null, line: `The package electron is missing: ${INSTEAD}.` };
  const last = readProgress(options.progressFile);
  if (last?.state === "fetching") {
    return { path: null, line: `Electron is still being fetched (${last.percent} %): ${INSTEAD}.` };
  }
  // A download that broke off is tried again at once; where nothing came at all, not before tomorrow.
  if ((last?.percent ?? 0) === 0 && triedRecently(options.logFile)) {
    return { path: null, line: `Electron could not be fetched today (${options.logFile}): ${INSTEAD}.` };
  }
  const outcome = await runInstaller(installer, options);
  const fetched = installedElectron(options.packages);
  if (fetched !== null) return { path: fetched, line: null };
  return outcome === "running"
    ? { path: null, line: `Electron is being fetched, for the next start; this time ${INSTEAD}.` }
    : { path: null, line: `Electron could not be fetched (${options.logFile}): ${INSTEAD}.` };
}

/** Says how far the download is, a line for every tenth, until it is over; holds no process up. */
export function followFetch(progressFile: string, log: (line: string) => void, every = 500): void {
  let said = 0;
  const timer = setInterval(() => {
    const progress = readProgress(progressFile);
    if (progress?.state === "fetching") {
      const tenth = Math.floor(progress.percent / 10) * 10;
      if (tenth > said) log(`Fetching Electron: ${tenth} %`);
      said = Math.max(said, tenth);
      return;
    }
    clearInterval(timer);
    if (progress?.state === "done") log("Electron has been fetched: the next start opens in its window.");
    else if ((progress?.percent ?? 0) > 0) log("Fetching Electron broke off: the next start tries again.");
    else log("Electron could not be fetched today.");
  }, every);
  timer.unref();
}

function triedRecently(logFile: string): boolean {
  try {
    return Date.now() - statSync(logFile).mtimeMs < RETRY_AFTER_MS;
  } catch {
    return false;
  }
}

/** Starts the installer on its own, so that a slow download goes on behind the program that is opened meanwhile. */
function runInstaller(
  installer: string,
  { logFile, progressFile, patience = PATIENCE_MS }: FetchOptions,
): Promise<"ended" | "running"> {
  mkdirSync(join(logFile, ".."), { recursive: true });
  const log = openSync(logFile, "w");
  const child: ChildProcess = spawn(process.execPath, [FETCH, installer, progressFile], {
    stdio: ["ignore", log, log],
    detached: true,
    // A process of its own would open a console window on Windows.
    windowsHide: true,
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
