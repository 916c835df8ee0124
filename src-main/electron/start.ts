import { mkdirSync } from "node:fs";
import { homedir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { app, type BrowserWindow, session } from "electron";
import { isDemoFolder } from "../demo-mark.ts";
import { openOrRecover } from "../open-or-recover.ts";
import { readBuiltWindow } from "../ports/built-files.ts";
import { systemClock } from "../ports/clock.ts";
import { benchPaths, dataFolder } from "../ports/data-folder.ts";
import { randomIds } from "../ports/ids.ts";
import type { Program } from "../program.ts";
import { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";
import { declareScheme, serveWindow } from "./app-protocol.ts";
import { chooseExportPath, chooseRecovery, offerReload, showTrouble } from "./dialogs.ts";
import { registerCalls } from "./ipc.ts";
import { installMenu } from "./menu.ts";
import { denyPermissions } from "./permissions.ts";
import { printToPdf } from "./print-pdf.ts";
import { confine, openWindow } from "./window.ts";

/** Beside out/main once built. */
const BUILT_WINDOW = fileURLToPath(new URL("../renderer", import.meta.url));

/** Reads `--data FOLDER`, or null; whatever else Electron or the system put on the line is passed over. */
export function folderFromArguments(argv: readonly string[]): string | null {
  const { values } = parseArgs({ args: [...argv], strict: false, options: { data: { type: "string" } } });
  return typeof values.data === "string" ? resolve(values.data) : null;
}

/**
 * Runs the program in Electron. A second start on the same bench brings the first one's window to the front and ends.
 * Everything up to the first wait happens before the application is ready, as Electron demands of it. Never rejects:
 * resolves when the window has been opened, or after the person has been told why not and the program was told to end.
 * @param argv what stands on the line behind the program
 * @param builtWindow folder of the built window
 */
export async function startElectronHost(argv: readonly string[], builtWindow = BUILT_WINDOW): Promise<void> {
  try {
    declareScheme();
    app.enableSandbox();
    const home = { platform: process.platform, home: homedir(), environment: process.env };
    const folder = folderFromArguments(argv) ?? dataFolder(home);
    claimFolder(folder);
    if (app.requestSingleInstanceLock()) await openHost(folder, builtWindow);
    else app.quit();
  } catch (trouble) {
    await endWith(trouble);
  }
}

/**
 * The profile lies with the bench, so that the single-instance lock is the bench's own.
 * @throws BenchUnopenable
 */
function claimFolder(folder: string): void {
  const profile = join(folder, "electron-profile");
  try {
    mkdirSync(profile, { recursive: true });
  } catch (error) {
    throw new BenchUnopenable(
      {
        code: "bench.read-only",
        message: `The folder ${folder} cannot hold a bench (${(error as Error).message}).`,
        hint: "Ask for the right to write to that folder, or choose another one, then start again.",
      },
      error,
    );
  }
  app.setPath("userData", profile);
}

async function openHost(folder: string, builtWindow: string): Promise<void> {
  const own: { window: BrowserWindow | null } = { window: null };
  app.on("second-instance", () => bringForward(own.window));
  app.on("web-contents-created", (_event, contents) => confine(contents));
  await app.whenReady();
  denyPermissions(session.defaultSession);
  serveWindow(await readBuiltWindow(builtWindow));
  installMenu(process.platform);
  const program = await openProgram(folder, own);
  registerCalls({ dispatch: program.dispatch, ownContents: () => own.window?.webContents ?? null, log });
  closeWithWindow(program);
  own.window = openWindow();
  watch(own.window, own);
}

/** Tells the person why the program cannot go on, at a terminal as well, and ends it with code 1. */
async function endWith(trouble: unknown): Promise<void> {
  const known = trouble instanceof BenchUnopenable;
  const message = known ? trouble.message : "Linefall could not start.";
  const hint = known ? trouble.hint : trouble instanceof Error ? trouble.message : String(trouble);
  console.error(`${message}\n${hint}`);
  // Before that Linux shows no box at all.
  await app.whenReady();
  showTrouble(message, hint);
  app.exit(1);
}

async function openProgram(folder: string, own: { readonly window: BrowserWindow | null }): Promise<Program> {
  const options = {
    paths: { ...benchPaths(folder), exportFolder: app.getPath("documents") },
    clock: systemClock,
    ids: randomIds,
    host: "electron" as const,
    programVersion: app.getVersion(),
    demo: await isDemoFolder(folder),
    log,
    downloadAddress: () => null,
    chooseExportPath: (suggested: string) => chooseExportPath(own.window, suggested),
    printToPdf: () => printToPdf(own.window),
  };
  return openOrRecover(options, chooseRecovery);
}

function bringForward(window: BrowserWindow | null): void {
  if (window?.isMinimized()) window.restore();
  window?.focus();
}

/** The program ends with its window on every system; the bench is closed before the process goes. */
function closeWithWindow(program: Program): void {
  app.on("window-all-closed", () => app.quit());
  let closed = false;
  app.on("will-quit", (event) => {
    if (closed) return;
    event.preventDefault();
    closed = true;
    void program.close().finally(() => app.quit());
  });
}

function watch(window: BrowserWindow, own: { window: BrowserWindow | null }): void {
  window.on("closed", () => {
    own.window = null;
  });
  window.webContents.on("render-process-gone", async (_event, { reason }) => {
    if (reason === "clean-exit") return;
    log(`window gone: ${reason}`);
    if (await offerReload(window, reason)) window.webContents.reload();
    else app.quit();
  });
}

function log(line: string): void {
  console.log(line);
}
