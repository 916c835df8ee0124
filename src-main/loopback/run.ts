import { readFileSync } from "node:fs";
import { mkdir } from "node:fs/promises";
import { homedir } from "node:os";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { ensureDemoBench, makeThrowawayFolder } from "../demo-folder.ts";
import { isDemoFolder } from "../demo-mark.ts";
import { openOrRecover } from "../open-or-recover.ts";
import { type BuiltFiles, readBuiltWindow } from "../ports/built-files.ts";
import { systemClock } from "../ports/clock.ts";
import { benchPaths, dataFolder } from "../ports/data-folder.ts";
import { randomIds } from "../ports/ids.ts";
import { demoFolderBeside, startBeside } from "../ports/start-beside.ts";
import type { Program } from "../program.ts";
import { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";
import { copyWorkBeside } from "./copy-work.ts";
import { createDownloads, type Downloads } from "./downloads.ts";
import { createEndSignal } from "./end-signal.ts";
import { readEntryFiles } from "./entry-files.ts";
import { browserForWindow } from "./find-browser.ts";
import { lastPort, noteLastPort } from "./last-port.ts";
import { launchWindow } from "./launch-window.ts";
import { recoveryAtTerminal } from "./offer-recovery.ts";
import { removeOpeningPage, removeOpeningPages, writeOpeningPage } from "./opening-page.ts";
import type { LoopbackStart } from "./options.ts";
import { createPresence } from "./presence.ts";
import { announceHost, findRunningHost, withdrawHost } from "./running-host.ts";
import { sayOpening } from "./say-opening.ts";
import { startLoopbackServer } from "./server.ts";
import { withScripts } from "./with-scripts.ts";

const ROOT = new URL("../../", import.meta.url);
/** A reloaded window is back well within this. */
const AWAY_MS = 4000;

type Log = (line: string) => void;

/** What one start works with. */
interface Run {
  readonly start: LoopbackStart;
  readonly folder: string;
  /** The browser to open a window with; null serves without one. */
  readonly browser: string | null;
  readonly log: Log;
}

/** @throws {Error} inside Electron, whose package must not hold this host, let alone run it */
export function refuseElectron(versions: Readonly<Record<string, string | undefined>>): void {
  if (versions.electron !== undefined) throw new Error("The loopback host does not run inside Electron.");
}

/**
 * Serves a bench until its last window closes, or until Ctrl+C. When the bench is already served, opens one more
 * window on it and returns.
 * @throws BenchUnopenable or an Error with a sentence for the person
 */
export async function runLoopbackHost(start: LoopbackStart, log: Log): Promise<void> {
  const surroundings = { platform: process.platform, home: homedir(), environment: process.env };
  const throwaway = start.demo && start.folder === null ? await makeThrowawayFolder() : null;
  const folder =
    throwaway?.folder ?? (start.folder === null ? dataFolder(surroundings) : resolve(start.folder));
  const { browser, why } = start.withWindow
    ? await browserForWindow(surroundings)
    : { browser: null, why: null };
  if (why !== null) log(why);
  const run = { start, folder, browser, log };
  try {
    if (await joinRunningHost(run)) return;
    if (start.demo) await ensureDemoBench(folder, log);
    await serve(run);
  } catch (error) {
    // Two starts at the same instant: the other one has won the lock and answers by now.
    const lost = error instanceof BenchUnopenable && error.code === "bench.locked";
    if (!lost || !(await joinRunningHost(run))) throw error;
  } finally {
    await throwaway?.remove();
  }
}

async function joinRunningHost({ folder, browser, log }: Run): Promise<boolean> {
  const running = await findRunningHost(folder);
  if (running === null) return false;
  log(`This bench is open already (process ${running.pid}).`);
  if (browser === null) log(`Open it at ${running.invitation}\nThe address works once.`);
  else {
    launchWindow(browser, await writeOpeningPage(folder, running.invitation), folder, log);
    log("One more window opens on it.");
  }
  return true;
}

async function serve(run: Run): Promise<void> {
  const [built, entryFiles] = await Promise.all([
    readBuiltWindow(fileURLToPath(new URL("out/renderer", ROOT))),
    readEntryFiles(),
  ]);
  await mkdir(run.folder, { recursive: true, mode: 0o700 });
  const downloads = createDownloads(benchPaths(run.folder).exportFolder);
  const program = await openProgram(run, downloads);
  try {
    await serveProgram(run, { program, downloads, built, entryFiles });
  } finally {
    await program.close();
  }
}

async function openProgram({ folder, start, browser, log }: Run, downloads: Downloads): Promise<Program> {
  const options = {
    paths: benchPaths(folder),
    clock: systemClock,
    ids: randomIds,
    host: "loopback" as const,
    programVersion: programVersion(),
    demo: await isDemoFolder(folder),
    log,
    downloadAddress: downloads.addressFor,
    opening: sayOpening(log),
    copyWork: copyWorkBeside,
    ...(browser === null ? {} : { openDemo: () => startDemo(folder) }),
  };
  return openOrRecover(options, recoveryAtTerminal(start.recover, log));
}

/** The same program once more, on the demo bench beside this one; where that is open already one more window opens on it. */
function startDemo(folder: string): Promise<void> {
  const entry = fileURLToPath(new URL("src-main/launch/start.ts", ROOT));
  return startBeside(process.execPath, [entry, "--browser", "--demo", "--data", demoFolderBeside(folder)]);
}

interface Parts {
  readonly program: Program;
  readonly downloads: Downloads;
  readonly built: BuiltFiles;
  readonly entryFiles: BuiltFiles;
}

async function serveProgram(run: Run, { program, downloads, built, entryFiles }: Parts): Promise<void> {
  const end = createEndSignal();
  const presence = createPresence(AWAY_MS, {
    onFirst: () => run.log("The window is open."),
    onEmpty: () => end.now("its last window has closed"),
  });
  const ownWindow = run.browser !== null;
  await removeOpeningPages(run.folder);
  const server = await startLoopbackServer({
    port: run.start.port,
    preferredPort: await lastPort(run.folder),
    files: withScripts(built, { presence: ownWindow }),
    entryFiles,
    downloads,
    dispatch: program.dispatch,
    onEntered: async (invitation) => {
      await removeOpeningPage(run.folder, `${server.address}/enter#${invitation}`);
      if (announced.endsWith(`#${invitation}`))
        await announce().catch((error: Error) => run.log(error.message));
    },
    ...(ownWindow ? { presence } : {}),
  });
  await noteLastPort(run.folder, server.address);
  // An invitation works once: when the announced one is used, the next start must find a fresh one.
  let announced = "";
  const announce = () => {
    announced = server.invite();
    return announceHost(run.folder, { pid: process.pid, address: server.address, invitation: announced });
  };
  try {
    await announce();
    for (const notice of program.notices) run.log(notice);
    const window = await showBench(run, server.invite());
    void window?.ended.then(() => {
      if (presence.seen && presence.open === 0) end.now("its window has closed");
      if (!presence.seen) run.log(`The window did not open. Open the bench at ${server.invite()}`);
    });
    const why = await end.reason;
    await window?.close();
    run.log(`Linefall ends: ${why}.`);
  } finally {
    presence.stop();
    await withdrawHost(run.folder);
    await removeOpeningPages(run.folder);
    await server.close();
    end.forget();
  }
}

async function showBench({ browser, folder, log }: Run, address: string) {
  if (browser === null) {
    log(`Linefall is at ${address}\nThe address works once. Ctrl+C ends the program.`);
    return null;
  }
  log(`Linefall opens in a window of ${browser}. Close the window or press Ctrl+C to end it.`);
  return launchWindow(browser, await writeOpeningPage(folder, address), folder, log);
}

function programVersion(): string {
  return (JSON.parse(readFileSync(new URL("package.json", ROOT), "utf8")) as { version: string }).version;
}
