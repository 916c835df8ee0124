import type { StandInWindow } from "./stand-in-window.ts";

/** What the program under test has asked of Electron, in order; read by the tests through the control line. */
export const state = {
  ready: false,
  order: [] as string[],
  schemes: [] as string[],
  handlers: new Map<string, (event: unknown, ...args: unknown[]) => unknown>(),
  served: new Map<string, (request: Request) => Response | Promise<Response>>(),
  windows: [] as StandInWindow[],
  /** Numbers of the processes begun for services, the first one first. */
  utilities: [] as number[],
  errorBoxes: [] as (readonly [string, string])[],
  messageBoxes: [] as Electron.MessageBoxOptions[],
  saveDialogs: [] as Electron.SaveDialogOptions[],
  overwriteQuestions: [] as string[],
  /** Keys that the menu takes, as Electron writes them; filled by the menu set last, or by Electron's own default. */
  accelerators: [] as string[],
};

/** What the person answers; set by a test. */
export const answers = {
  /** Where a file is saved; null cancels the dialog. */
  savePath: null as string | null,
  /** A folder in which the person saves under the suggested name; null where `savePath` says it. */
  saveFolder: null as string | null,
  /** Whether a file that is there may be replaced, where the dialog asks. */
  overwrite: false,
  /** Pressed in the next message boxes; the last stands for all that follow. Without one the box is dismissed. */
  buttons: [] as number[],
};

export function note(what: string): void {
  state.order.push(what);
}

/** @throws Error, as Electron does for what may only be asked once the application is ready */
export function demandReady(words: string): void {
  if (!state.ready) throw new Error(words);
}

/** @throws Error, as Electron does for what comes too late once the application is ready */
export function demandNotReady(words: string): void {
  if (state.ready) throw new Error(words);
}

/** What crosses a process border: cloned by the structured-clone algorithm. @throws Error where Electron does */
export function cloned<T>(value: T): T {
  try {
    return structuredClone(value);
  } catch {
    throw new TypeError("An object could not be cloned.");
  }
}

/** An event that a listener can forbid. */
export function preventable(url = "") {
  let prevented = false;
  return {
    url,
    preventDefault: () => {
      prevented = true;
    },
    get defaultPrevented() {
      return prevented;
    },
  };
}

export function openWindows(): StandInWindow[] {
  return state.windows.filter((window) => !window.isDestroyed());
}
