import { EventEmitter } from "node:events";
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { isAbsolute, join } from "node:path";
import type { App } from "electron";
import { demandNotReady, note, openWindows, preventable, state } from "./stand-in-state.ts";

type Asked = Pick<
  App,
  | "isPackaged"
  | "enableSandbox"
  | "getVersion"
  | "getName"
  | "requestSingleInstanceLock"
  | "whenReady"
  | "isReady"
  | "quit"
  | "exit"
>;

export class StandInApp extends EventEmitter implements Asked {
  readonly isPackaged = process.env.LINEFALL_STAND_IN_PACKAGED === "1";
  readonly commandLine = { appendSwitch: (name: string) => this.#tooLate(`appendSwitch ${name}`) };
  readonly #paths = new Map<string, string>([
    ["home", homedir()],
    ["documents", join(homedir(), "Documents")],
    ["temp", tmpdir()],
    ["appData", join(tmpdir(), "stand-in-app-data")],
    ["userData", join(tmpdir(), "stand-in-app-data", "linefall")],
  ]);
  readonly #ready = Promise.withResolvers<void>();
  #lock: string | null = null;
  #quitting = false;

  #tooLate(what: string): void {
    demandNotReady(`${what} has no effect once the app is ready`);
    note(what);
  }
  enableSandbox(): void {
    demandNotReady("app.enableSandbox() can only be called before app is ready");
    note("enableSandbox");
  }
  setName(name: string): void {
    note(`setName ${name}`);
  }
  getName(): string {
    return "linefall";
  }
  /** As in Electron, that of the program's package.json. */
  getVersion(): string {
    const text = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
    return (JSON.parse(text) as { version: string }).version;
  }
  setAppUserModelId(_id: string): void {}
  setPath(name: string, path: string): void {
    if (!isAbsolute(path)) throw new Error("Path must be absolute");
    if (!existsSync(path)) throw new Error(`Failed to set path '${name}': it does not exist`);
    this.#paths.set(name, path);
    note(`setPath ${name}`);
  }
  getPath(name: string): string {
    const path = this.#paths.get(name);
    if (path === undefined) throw new Error(`Failed to get '${name}' path`);
    return path;
  }
  /** One program per profile: the lock lies in `userData`, so the path must be set before. */
  requestSingleInstanceLock(): boolean {
    note("requestSingleInstanceLock");
    const lock = join(this.getPath("userData"), "SingletonLock");
    const holder = holderOf(lock);
    if (holder !== null && holder !== process.pid) {
      process.kill(holder, "SIGUSR2");
      return false;
    }
    rmSync(lock, { force: true });
    writeFileSync(lock, String(process.pid), { flag: "wx" });
    this.#lock = lock;
    process.on("SIGUSR2", () => this.emit("second-instance", {}, [], process.cwd(), null));
    return true;
  }
  whenReady(): Promise<void> {
    note("whenReady");
    return this.#ready.promise;
  }
  isReady(): boolean {
    return state.ready;
  }
  /** By the start order alone. */
  makeReady(): void {
    state.ready = true;
    note("ready");
    this.#ready.resolve();
    this.emit("ready", {}, {});
  }
  /** Closes every window as a person would, then asks `will-quit`; whoever forbids it keeps the program running. */
  quit(): void {
    note("quit");
    void this.#quit();
  }
  async #quit(): Promise<void> {
    const before = preventable();
    this.emit("before-quit", before);
    if (before.defaultPrevented) return;
    this.#quitting = true;
    for (const window of openWindows()) {
      if (!(await window.tryClose())) {
        this.#quitting = false;
        return;
      }
    }
    const will = preventable();
    this.emit("will-quit", will);
    if (will.defaultPrevented) {
      this.#quitting = false;
      return;
    }
    this.emit("quit", {}, 0);
    this.#end(0);
  }
  /** docs/api/app.md: the windows go without being asked; `before-quit` and `will-quit` are not emitted. */
  exit(code = 0): void {
    note(`exit ${code}`);
    this.#end(code);
  }
  #end(code: number): void {
    if (this.#lock !== null) rmSync(this.#lock, { force: true });
    process.exit(code);
  }
  lastWindowClosed(): void {
    if (this.#quitting) return;
    // Without a listener Electron quits by itself.
    if (!this.emit("window-all-closed")) this.quit();
  }
}

function holderOf(lock: string): number | null {
  if (!existsSync(lock)) return null;
  const pid = Number(readFileSync(lock, "utf8"));
  try {
    process.kill(pid, 0);
    return pid;
  } catch {
    return null;
  }
}

export const theApp = new StandInApp();
