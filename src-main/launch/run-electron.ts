import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";

export interface ElectronRun {
  readonly binary: string;
  /** The folder with package.json, whose `main` is the built main process. */
  readonly application: string;
  /** The bench's folder; null for the person's own. */
  readonly folder: string | null;
  /** Where the window keeps what is its own; null for the usual place. */
  readonly profile: string | null;
  readonly asRoot: boolean;
  /** Electron makes this file when it has shown the person something: its window, or why there is none. */
  readonly shownFile: string;
  /** How long it may take for that, ms. */
  readonly patience?: number;
}

/** A first start on a slow machine reads 200 MB from its disk. */
const PATIENCE_MS = 20_000;
const LOOK_EVERY_MS = 200;
/** From being asked to end to being ended. */
const GRACE_MS = 5000;

/** What came of it: its exit code, or that it did not start, or that it ran without ever showing a window. */
export type ElectronEnd = number | "did not start" | "no window";

export function electronArguments(run: Omit<ElectronRun, "binary" | "patience">): string[] {
  return [
    run.application,
    ...(run.asRoot ? ["--no-sandbox"] : []),
    ...(run.folder === null ? [] : ["--data", run.folder]),
    ...(run.profile === null ? [] : ["--profile", run.profile]),
    "--shown",
    run.shownFile,
  ];
}

/**
 * Runs Electron until it ends. One that shows nothing within some seconds is ended: a program without a window is none.
 * “Did not start” is a missing system library, a damaged download, a sandbox that the system does not allow.
 */
export async function runElectron(run: ElectronRun): Promise<ElectronEnd> {
  // With this variable set the binary would be a plain Node.
  const { ELECTRON_RUN_AS_NODE: _plainNode, ...environment } = process.env;
  const child = spawn(run.binary, electronArguments(run), { stdio: "inherit", env: environment });
  // Ctrl+C reaches Electron from the terminal; this process stays to tidy up behind it.
  const wait = () => {};
  process.on("SIGINT", wait);
  const pass = () => child.kill("SIGTERM");
  process.on("SIGTERM", pass);
  const over = new AbortController();
  const ended = endOf(child).finally(() => over.abort());
  try {
    if (await showsSomething(run, over.signal)) return await ended;
    await endNow(child, ended);
    return "no window";
  } finally {
    process.off("SIGINT", wait);
    process.off("SIGTERM", pass);
  }
}

function endOf(child: ChildProcess): Promise<ElectronEnd> {
  return new Promise((resolve) => {
    child.on("error", () => resolve("did not start"));
    // 127 is the loader's answer to a missing library.
    child.on("exit", (code, signal) =>
      resolve(code === 127 ? "did not start" : (code ?? (signal === "SIGTERM" ? 0 : "did not start"))),
    );
  });
}

/** @returns false when the time has passed without a window; true also when Electron has ended by itself */
async function showsSomething(
  { shownFile, patience = PATIENCE_MS }: ElectronRun,
  over: AbortSignal,
): Promise<boolean> {
  const until = Date.now() + patience;
  while (!over.aborted && !existsSync(shownFile)) {
    if (Date.now() > until) return false;
    await pause(LOOK_EVERY_MS, undefined, { signal: over }).catch(() => undefined);
  }
  return true;
}

async function endNow(child: ChildProcess, ended: Promise<ElectronEnd>): Promise<void> {
  child.kill("SIGTERM");
  const killing = setTimeout(() => child.kill("SIGKILL"), GRACE_MS);
  await ended;
  clearTimeout(killing);
}
