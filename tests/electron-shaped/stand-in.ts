/**
 * The module `electron` for the built program under plain Node, with Electron's own order and rules: what is asked too
 * early or too late throws, listeners that are missing have Electron's consequences, nothing crosses a process border
 * that could not be cloned. Sources: electron/electron docs/api (app, browser-window, dialog, ipc-main, menu, protocol,
 * session, utility-process, web-contents), docs/tutorial/esm.md; #40719, #41369 (top-level await of `ready`).
 */
import { EventEmitter } from "node:events";
import { existsSync } from "node:fs";
import { basename, join } from "node:path";
import { setTimeout } from "node:timers/promises";
import type { Dialog, IpcMain, MenuItemConstructorOptions, Protocol, Session } from "electron";
import { theApp } from "./stand-in-app.ts";
import { StandInSafeStorage } from "./stand-in-keychain.ts";
import { menuAccelerators } from "./stand-in-menu.ts";
import { answers, cloned, demandNotReady, demandReady, note, openWindows, state } from "./stand-in-state.ts";
import { UtilityChild } from "./stand-in-utility.ts";
import { StandInWindow } from "./stand-in-window.ts";

export const app = theApp;
export const BrowserWindow = StandInWindow;

const lastOf = <T>(args: readonly unknown[]): T => args.at(-1) as T;

export class StandInDialog {
  async showMessageBox(...args: unknown[]): Promise<Electron.MessageBoxReturnValue> {
    demandReady("dialog module can only be used after app is ready");
    const options = lastOf<Electron.MessageBoxOptions>(args);
    state.messageBoxes.push(options);
    // A person answers later than the page that was being asked to unload.
    while (openWindows().some(({ closing }) => closing)) await setTimeout(5);
    const [button] = answers.buttons.length > 1 ? answers.buttons.splice(0, 1) : answers.buttons;
    // Dismissed: docs/api/dialog.md, cancelId.
    return { response: button ?? options.cancelId ?? 0, checkboxChecked: false };
  }
  async showSaveDialog(...args: unknown[]): Promise<Electron.SaveDialogReturnValue> {
    demandReady("dialog module can only be used after app is ready");
    const options = lastOf<Electron.SaveDialogOptions>(args);
    state.saveDialogs.push(options);
    const path =
      answers.saveFolder === null
        ? answers.savePath
        : join(answers.saveFolder, basename(options.defaultPath ?? "unnamed"));
    if (path === null) return { canceled: true, filePath: "" };
    // GTK asks only when told to; Windows and macOS always ask.
    const asks = process.platform !== "linux" || options.properties?.includes("showOverwriteConfirmation");
    if (existsSync(path) && asks) {
      state.overwriteQuestions.push(path);
      if (!answers.overwrite) return { canceled: true, filePath: "" };
    }
    return { canceled: false, filePath: path };
  }
  showErrorBox(title: string, content: string): void {
    state.errorBoxes.push([title, content]);
    // Before `ready` Linux prints it and shows nothing.
    if (!state.ready) console.error(`${title}\n${content}`);
  }
}
export const dialog: Pick<Dialog, "showErrorBox"> & StandInDialog = new StandInDialog();

export class StandInIpcMain extends EventEmitter {
  handle(channel: string, handler: Parameters<IpcMain["handle"]>[1]): void {
    if (state.handlers.has(channel))
      throw new Error(`Attempted to register a second handler for '${channel}'`);
    state.handlers.set(channel, async (event, ...args) =>
      cloned(await handler(event as Electron.IpcMainInvokeEvent, ...args.map(cloned))),
    );
  }
}
export const ipcMain = new StandInIpcMain();

export const Menu = {
  buildFromTemplate: (template: MenuItemConstructorOptions[]) => template,
  setApplicationMenu(template: MenuItemConstructorOptions[] | null): void {
    state.accelerators = template === null ? [] : menuAccelerators(template);
    note("setApplicationMenu");
  },
};

let schemesRegistered = false;
export const protocol = {
  registerSchemesAsPrivileged(schemes: Electron.CustomScheme[]): void {
    demandNotReady("protocol.registerSchemesAsPrivileged should be called before app is ready");
    if (schemesRegistered) throw new Error("protocol.registerSchemesAsPrivileged can be called only once");
    schemesRegistered = true;
    state.schemes.push(...schemes.map(({ scheme }) => scheme));
    note("registerSchemesAsPrivileged");
  },
  handle(scheme: string, handler: Parameters<Protocol["handle"]>[1]): void {
    demandReady("Session can only be received when app is ready");
    if (state.served.has(scheme)) throw new Error("The scheme has been registered");
    state.served.set(scheme, handler as (request: Request) => Response | Promise<Response>);
  },
} satisfies Pick<Protocol, "registerSchemesAsPrivileged" | "handle">;

type SessionHandlers = Pick<
  Session,
  "setPermissionRequestHandler" | "setPermissionCheckHandler" | "setDevicePermissionHandler"
>;
export class StandInSession extends EventEmitter implements SessionHandlers {
  request: Parameters<Session["setPermissionRequestHandler"]>[0] = null;
  check: Parameters<Session["setPermissionCheckHandler"]>[0] = null;
  device: Parameters<Session["setDevicePermissionHandler"]>[0] = null;
  before: ((details: { url: string }, answer: (to: { cancel?: boolean }) => void) => void) | null = null;
  readonly webRequest = {
    onBeforeRequest: (listener: NonNullable<StandInSession["before"]>) => {
      this.before = listener;
    },
  };
  setPermissionRequestHandler(handler: StandInSession["request"]): void {
    this.request = handler;
  }
  setPermissionCheckHandler(handler: StandInSession["check"]): void {
    this.check = handler;
  }
  setDevicePermissionHandler(handler: StandInSession["device"]): void {
    this.device = handler;
  }
}
export const theSession = new StandInSession();
export const session = {
  get defaultSession(): StandInSession {
    demandReady("Session can only be received when app is ready");
    return theSession;
  },
};

export const safeStorage = new StandInSafeStorage();

export const shell = {
  /** docs/api/shell.md: opens the file manager with the item chosen; nothing comes back. */
  showItemInFolder(path: string): void {
    demandReady("shell can only be used after app is ready");
    note(`showItemInFolder ${path}`);
  },
};

export const utilityProcess = {
  fork(modulePath: string, args: string[] = [], options: Electron.ForkOptions = {}): UtilityChild {
    demandReady("utilityProcess cannot be created before app is ready");
    return new UtilityChild(modulePath, args, options);
  },
};

export class StandInPowerMonitor extends EventEmitter {
  override on(event: string, listener: (...args: unknown[]) => void): this {
    demandReady("powerMonitor cannot be used before the app is ready");
    return super.on(event, listener);
  }
}
export const powerMonitor = new StandInPowerMonitor();
