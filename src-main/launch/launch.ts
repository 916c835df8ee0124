import { homedir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { ensureDemoBench, makeThrowawayFolder } from "../demo-folder.ts";
import { hasDisplay } from "../loopback/find-browser.ts";
import type { LoopbackStart } from "../loopback/options.ts";
import { runLoopbackHost } from "../loopback/run.ts";
import type { Surroundings } from "../ports/data-folder.ts";
import { electronBinary } from "./electron-binary.ts";
import { runElectron } from "./run-electron.ts";

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
  if (binary !== null) {
    const code = await openInElectron(binary, start, log);
    if (code !== null) return code;
    log("Electron did not start: the same program opens in a browser window.");
  }
  await runLoopbackHost(start, log);
  return 0;
}

/** A fixed port, a numbered way out and `--no-window` are the loopback host's; without a display it is the only one. */
export function wantsElectron(start: LoopbackStart, surroundings: Surroundings): boolean {
  return start.withWindow && start.port === 0 && start.recover === null && hasDisplay(surroundings);
}

async function findElectron(log: Log): Promise<string | null> {
  const { path, line } = await electronBinary({
    packages: join(ROOT, "node_modules"),
    logFile: join(ROOT, ".cache", "electron-fetch.log"),
    mayFetch: process.env.LINEFALL_FETCH_ELECTRON !== "0",
  });
  if (line !== null) log(line);
  return path;
}

async function openInElectron(binary: string, start: LoopbackStart, log: Log): Promise<number | null> {
  const throwaway = start.demo && start.folder === null ? await makeThrowawayFolder() : null;
  const chosen = throwaway?.folder ?? start.folder;
  const asRoot = process.platform === "linux" && process.getuid?.() === 0;
  if (asRoot) log("Caution: started as root, so Electron runs without its sandbox. Use an ordinary account.");
  try {
    if (start.demo && chosen !== null) await ensureDemoBench(chosen, log);
    const folder = chosen === null ? null : resolve(chosen);
    return await runElectron({ binary, application: ROOT, folder, asRoot });
  } finally {
    await throwaway?.remove();
  }
}
