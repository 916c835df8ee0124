import { mkdirSync, realpathSync, writeFileSync } from "node:fs";
import { homedir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { app, type BrowserWindow, safeStorage, session, shell, utilityProcess } from "electron";
import { readBuiltWindow } from "../ports/built-files.ts";
import { dataFolder, windowProfileFolder } from "../ports/data-folder.ts";
import { demoFolderBeside, startBeside } from "../ports/start-beside.ts";
import { declareScheme, serveWindow } from "./app-protocol.ts";
import { copyWorkBeside } from "./copy-work.ts";
import { chooseExportPath, chooseRecovery, sayRestarted, showTrouble } from "./dialogs.ts";
import { endWithSystem, endWithWindow } from "./ending.ts";
import { createHeadKey, headKeyAnswers } from "./head-key.ts";
import { registerCalls } from "./ipc.ts";
import { installMenu } from "./menu.ts";
import { denyPermissions } from "./permissions.ts";
import { printToPdf } from "./print-pdf.ts";
import { type ServiceClient, ServiceTrouble, startService } from "./service-client.ts";
import { confine, openWindow } from "./window.ts";
import { watchWindow } from "./window-life.ts";

/** What stands beside out/main/main.js once built. */
export interface BuiltParts {
  /** Folder of the built window. */
  readonly window: string;
  /** Entry of the service process. */
  readonly service: string;
  /** Entry of the process that checks a copied bench. */
  readonly copyWork: string;
}

const BUILT: BuiltParts = {
  window: fileURLToPath(new URL("../renderer", import.meta.url)),
  service: fileURLToPath(new URL("service-process.js", import.meta.url)),
  copyWork: fileURLToPath(new URL("copy-work-process.js", import.meta.url)),
};

/** Nobody else's to look into. */
const OWN_FOLDER = { recursive: true, mode: 0o700 } as const;

interface OwnWindow {
  window: BrowserWindow | null;
  /** It has been closed: the program is ending, which may take until work under way has been stored. */
  isClosed: boolean;
}

interface ChosenPlaces {
  /** `--data FOLDER`: the bench's folder. */
  readonly data: string | null;
  /** `--demo`: the invented demo bench, beside the person's own where no folder is named. */
  readonly demo: boolean;
  /** `--profile FOLDER`: the window's profile, for a bench that is thrown away. */
  readonly profile: string | null;
  /** `--shown FILE`: made when the person sees something, for a launcher that waits for it. */
  readonly shown: string | null;
}

/** Whatever else Electron or the system put on the line is passed over. */
export function placesFromArguments(argv: readonly string[]): ChosenPlaces {
  const options = {
    data: { type: "string" },
    demo: { type: "boolean" },
    profile: { type: "string" },
    shown: { type: "string" },
  } as const;
  const { values } = parseArgs({ args: [...argv], strict: false, options });
  const folder = (value: unknown): string | null => (typeof value === "string" ? resolve(value) : null);
  return {
    data: folder(values.data),
    demo: values.demo === true,
    profile: folder(values.profile),
    shown: folder(values.shown),
  };
}

/**
 * Runs the program in Electron. A second start on the same bench brings the first one's window to the front and ends.
 * Everything up to the first wait happens before the application is ready, as Electron demands of it. Never rejects:
 * resolves when the window has been opened, or after the person has been told why not and the program was told to end.
 * @param argv what stands on the line behind the program
 */
export async function startElectronHost(argv: readonly string[], built = BUILT): Promise<void> {
  try {
    declareScheme();
    app.enableSandbox();
    // Chromium speaks through it on Linux, and only when told to.
    if (process.platform === "linux") app.commandLine.appendSwitch("enable-speech-dispatcher");
    const home = { platform: process.platform, home: homedir(), environment: process.env };
    const { data, demo, profile, shown } = placesFromArguments(argv);
    shownFile = shown;
    const folder = data ?? (demo ? demoFolderBeside(dataFolder(home)) : dataFolder(home));
    claimFolder(folder, (bench) => profile ?? windowProfileFolder(home, bench));
    if (app.requestSingleInstanceLock()) await openHost({ folder, demo }, built);
    else app.quit();
  } catch (trouble) {
    await endWith(trouble);
  }
}

/**
 * Makes the bench's folder and the window's profile. Each bench has a profile of its own, so that the single-instance
 * lock is the bench's own.
 * @throws ServiceTrouble
 */
function claimFolder(folder: string, profileOf: (bench: string) => string): void {
  let making = folder;
  try {
    mkdirSync(making, OWN_FOLDER);
    making = profileOf(realpathSync.native(folder));
    mkdirSync(making, OWN_FOLDER);
  } catch (error) {
    const what = making === folder ? "a bench" : "what the window keeps";
    throw new ServiceTrouble({
      message: `The folder ${making} cannot hold ${what} (${(error as Error).message}).`,
      hint: "Ask for the right to write to that folder, or choose another one, then start again.",
    });
  }
  app.setPath("userData", making);
}

interface BenchPlace {
  readonly folder: string;
  readonly demo: boolean;
}

/** The window opens at once, and its calls wait for the bench. */
async function openHost(bench: BenchPlace, built: BuiltParts): Promise<void> {
  const own: OwnWindow = { window: null, isClosed: false };
  app.on("second-instance", () => (own.isClosed ? startAfterEnd() : bringForward(own.window)));
  app.on("web-contents-created", (_event, contents) => confine(contents));
  await app.whenReady();
  denyPermissions(session.defaultSession);
  serveWindow(await readBuiltWindow(built.window));
  installMenu(process.platform);
  const service = openService(bench, built, own);
  registerCalls({ call: service.call, ownContents: () => own.window?.webContents ?? null, log });
  endWithWindow(service);
  const window = openWindow();
  own.window = window;
  const onClosed = () => {
    own.window = null;
    own.isClosed = true;
  };
  window.webContents.once("did-finish-load", noteShown);
  endWithSystem(window, watchWindow(window, onClosed, log), service);
  await service.opened;
}

function openService({ folder, demo }: BenchPlace, built: BuiltParts, own: OwnWindow): ServiceClient {
  return startService({
    fork: () => utilityProcess.fork(built.service, [], { serviceName: "Linefall bench" }),
    bench: { folder, demo, exportFolder: app.getPath("documents"), programVersion: app.getVersion() },
    answers: {
      exportPath: (suggested) => chooseExportPath(own.window, suggested),
      copyWork: (order, signal) => copyWorkBeside(built.copyWork, order, signal),
      demo: () => startDemo(),
      headKey: headKeyAnswers(
        createHeadKey(join(app.getPath("userData"), "trail-key.json"), safeStorage, process.platform),
      ),
      folder: async (path) => {
        shell.showItemInFolder(path);
        return null;
      },
      pdf: () => printToPdf(own.window),
      recovery: (question) => chooseRecovery(question),
    },
    onRestarted: () => void sayRestarted(own.window),
    onLost: (trouble) => void endWith(new ServiceTrouble(trouble)),
    log,
  });
}

let shownFile: string | null = null;

/** For a launcher that would otherwise take this process for one that never shows a window. */
function noteShown(): void {
  try {
    if (shownFile !== null) writeFileSync(shownFile, "");
  } catch (error) {
    log(`${shownFile} could not be made: ${(error as Error).message}`);
  }
}

/** Tells the person why the program cannot go on, at a terminal as well, and ends it with code 1. */
export async function endWith(trouble: unknown): Promise<void> {
  const known = trouble instanceof ServiceTrouble;
  const message = known ? trouble.message : "Linefall cannot go on.";
  const hint = known ? trouble.hint : trouble instanceof Error ? trouble.message : String(trouble);
  console.error(`${message}\n${hint}`);
  // Before that Linux shows no box at all.
  await app.whenReady();
  noteShown();
  showTrouble(message, hint);
  app.exit(1);
}

/** The same program once more, on the demo bench; where that is open already its window comes to the front. */
async function startDemo(): Promise<null> {
  const own = app.isPackaged ? [] : [app.getAppPath()];
  const switches = process.argv.filter((one) => one === "--no-sandbox");
  // What runs inside an AppImage is gone with it.
  await startBeside(process.env.APPIMAGE ?? process.execPath, [...switches, ...own, "--demo"]);
  return null;
}

let startsAfterEnd = false;

/** Whoever starts the program while it is ending wants a window: it comes when the bench has been closed. */
function startAfterEnd(): void {
  if (startsAfterEnd) return;
  startsAfterEnd = true;
  const args = process.argv.slice(1);
  // What runs inside an AppImage is gone with it.
  const { APPIMAGE: image } = process.env;
  app.relaunch(image === undefined ? { args } : { args, execPath: image });
}

function bringForward(window: BrowserWindow | null): void {
  if (window?.isMinimized()) window.restore();
  window?.focus();
}

function log(line: string): void {
  console.log(line);
}
