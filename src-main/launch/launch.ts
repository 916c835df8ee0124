import { mkdtemp, rm } from "node:fs/promises";
import { homedir, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { ensureDemoBench, makeThrowawayFolder } from "../demo-folder.ts";
import { hasDisplay } from "../loopback/find-browser.ts";
import type { LoopbackStart } from "../loopback/options.ts";
import { runLoopbackHost } from "../loopback/run.ts";
import type { Surroundings } from "../ports/data-folder.ts";
import { electronBinary, followFetch } from "./electron-binary.ts";
import { readProgress } from "./fetch-progress.ts";
import { type ElectronEnd, runElectron } from "./run-electron.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

type Log = (line: string) => void;

/**
 * Opens the built program: in Electron where its binary is there (or comes within seconds), else through the loopback
 * host in a browser window, and with no display by printing the address. Resolves with the exit code when it ends.
 * @throws BenchUnopenable or an Error with a sentence for the person
 */
export async function launch(start: LoopbackStart, log: Log): Promise<number> {
  const surroundings = { platform: process.platform, home: homedir(), environment: process.env };
  const binary = wantsElectron(start, surroundings) ? await findElectron(log) : null;
  if (start.withWindow && isUnwanted(surroundings))
    log("Electron is not used here (LINEFALL_FETCH_ELECTRON=0).");
  if (binary !== null) {
    const end = await openInElectron(binary, start, log);
    if (typeof end === "number") return end;
    const what = end === "no window" ? "Electron started but showed no window" : "Electron did not start";
    log(`${what}: the same program opens in a browser window. (--browser opens it there at once.)`);
  }
  await runLoopbackHost(start, log);
  return 0;
}

/**
 * A fixed port, a numbered way out, `--browser` and `--no-window` are the loopback host's; without a display, or where
 * `LINEFALL_FETCH_ELECTRON=0` says that Electron is not wanted, it is the only one.
 */
export function wantsElectron(start: LoopbackStart, surroundings: Surroundings): boolean {
  const asked = start.withWindow && !start.browser && start.port === 0 && start.recover === null;
  return asked && !isUnwanted(surroundings) && hasDisplay(surroundings);
}

function isUnwanted({ environment }: Surroundings): boolean {
  return environment.LINEFALL_FETCH_ELECTRON === "0";
}

async function findElectron(log: Log): Promise<string | null> {
  const progressFile = join(ROOT, ".cache", "electron-fetch.json");
  const { path, line } = await electronBinary({
    packages: join(ROOT, "node_modules"),
    logFile: join(ROOT, ".cache", "electron-fetch.log"),
    progressFile,
  });
  if (line !== null) log(line);
  if (path === null && readProgress(progressFile)?.state === "fetching") followFetch(progressFile, log);
  return path;
}

async function openInElectron(binary: string, start: LoopbackStart, log: Log): Promise<ElectronEnd> {
  const throwaway = start.demo && start.folder === null ? await makeThrowawayFolder() : null;
  const chosen = throwaway?.folder ?? start.folder;
  const asRoot = process.platform === "linux" && process.getuid?.() === 0;
  if (asRoot) log("Caution: started as root, so Electron runs without its sandbox. Use an ordinary account.");
  const notes = await mkdtemp(join(tmpdir(), "linefall-start-"));
  try {
    if (start.demo && chosen !== null) await ensureDemoBench(chosen, log);
    return await runElectron({
      binary,
      application: ROOT,
      folder: chosen === null ? null : resolve(chosen),
      profile: throwaway === null ? null : join(throwaway.folder, "window-profile"),
      asRoot,
      shownFile: join(notes, "shown"),
    });
  } finally {
    await rm(notes, { recursive: true, force: true });
    await throwaway?.remove();
  }
}
