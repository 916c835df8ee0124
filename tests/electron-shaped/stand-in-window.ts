import { EventEmitter } from "node:events";
import type { BrowserWindow, BrowserWindowConstructorOptions, WebContents } from "electron";
import { theApp } from "./stand-in-app.ts";
import { demandReady, note, openWindows, preventable, state } from "./stand-in-state.ts";

/** The page of a window on real Chromium, driven by the test; without one the window only fetches its address. */
export interface RemotePage {
  load(url: string): Promise<void>;
  reload(): Promise<void>;
  pdf(options: Electron.PrintToPDFOptions): Promise<Buffer>;
  /** Asks the page to unload. @returns false when it would rather stay and nobody overrules it */
  unload(): Promise<boolean>;
}
export const remote: { page: RemotePage | null } = { page: null };

type Asked = Pick<WebContents, "setWindowOpenHandler" | "reload" | "printToPDF" | "isDestroyed" | "getURL">;

export class StandInContents extends EventEmitter implements Asked {
  readonly mainFrame = { url: "" };
  openHandler: Parameters<WebContents["setWindowOpenHandler"]>[0] | null = null;
  destroyed = false;
  setWindowOpenHandler(handler: Parameters<WebContents["setWindowOpenHandler"]>[0]): void {
    this.openHandler = handler;
  }
  getURL(): string {
    return this.mainFrame.url;
  }
  isDestroyed(): boolean {
    return this.destroyed;
  }
  reload(): void {
    this.#demandAlive();
    note("reload");
    void remote.page?.reload();
  }
  async printToPDF(options: Electron.PrintToPDFOptions): Promise<Buffer<ArrayBuffer>> {
    this.#demandAlive();
    if (remote.page === null) throw new Error("Failed to generate PDF: there is no page");
    return Buffer.from(await remote.page.pdf(options));
  }
  #demandAlive(): void {
    if (this.destroyed) throw new TypeError("Object has been destroyed");
  }
}

type AskedWindow = Pick<
  BrowserWindow,
  | "setMenuBarVisibility"
  | "isMinimized"
  | "restore"
  | "focus"
  | "show"
  | "loadURL"
  | "close"
  | "destroy"
  | "isDestroyed"
  | "isVisible"
>;

export class StandInWindow extends EventEmitter implements AskedWindow {
  readonly options: BrowserWindowConstructorOptions;
  readonly #contents = new StandInContents();
  #destroyed = false;
  visible: boolean;
  closing = false;

  constructor(options: BrowserWindowConstructorOptions = {}) {
    demandReady("Cannot create BrowserWindow before app is ready");
    super();
    this.options = options;
    this.visible = options.show !== false;
    state.windows.push(this);
    note("BrowserWindow");
    theApp.emit("browser-window-created", {}, this);
    theApp.emit("web-contents-created", {}, this.#contents);
  }
  static getAllWindows(): StandInWindow[] {
    return openWindows();
  }
  get webContents(): StandInContents {
    if (this.#destroyed) throw new TypeError("Object has been destroyed");
    return this.#contents;
  }
  setMenuBarVisibility(_visible: boolean): void {}
  isMinimized(): boolean {
    return false;
  }
  isVisible(): boolean {
    return this.visible;
  }
  restore(): void {
    note("restore");
  }
  focus(): void {
    note("focus");
  }
  show(): void {
    this.visible = true;
    note("show");
  }
  async loadURL(url: string): Promise<void> {
    note(`loadURL ${url}`);
    this.webContents.mainFrame.url = url;
    if (remote.page !== null) await remote.page.load(url);
    else await fetchAsWindow(url);
    this.webContents.emit("did-finish-load");
  }
  isDestroyed(): boolean {
    return this.#destroyed;
  }
  /** docs/api/browser-window.md, event `close`: a listener may forbid it, then the page may by `beforeunload`. */
  close(): void {
    if (!this.closing) void this.tryClose();
  }
  /** @returns whether it is closed now */
  async tryClose(): Promise<boolean> {
    if (this.#destroyed) return true;
    const event = preventable();
    this.emit("close", event);
    if (event.defaultPrevented) return false;
    this.closing = true;
    const left = remote.page === null || (await remote.page.unload());
    this.closing = false;
    if (left) this.destroy();
    else note("stays open");
    return left;
  }
  destroy(): void {
    if (this.#destroyed) return;
    this.#contents.destroyed = true;
    this.#contents.emit("destroyed");
    this.#destroyed = true;
    note("closed");
    this.emit("closed");
    if (openWindows().length === 0) theApp.lastWindowClosed();
  }
}

/** The address answered by the program's own protocol. @throws Error as `loadURL` rejects */
async function fetchAsWindow(url: string): Promise<void> {
  const handler = state.served.get(new URL(url).protocol.slice(0, -1));
  const answer = handler === undefined ? null : await handler(new Request(url));
  if (answer?.status !== 200) throw new Error(`ERR_FAILED (-2) loading '${url}'`);
}
