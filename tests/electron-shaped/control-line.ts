import type { EventEmitter } from "node:events";
import { ipcMain, powerMonitor, theSession } from "./stand-in.ts";
import { theApp } from "./stand-in-app.ts";
import { answers, openWindows, preventable, state } from "./stand-in-state.ts";
import { type RemotePage, remote } from "./stand-in-window.ts";

/** A frame that speaks to the main process: the window's own main frame, or another one by its address. */
export type Sender = { readonly frame: "main" } | { readonly frame: "other"; readonly url: string };

/** What a test may ask of the process under test. */
export interface Asks {
  readonly look: { readonly asked: null; readonly answer: Look };
  readonly invoke: {
    readonly asked: { readonly sender: Sender; readonly channel: string; readonly args: unknown[] };
    readonly answer: unknown;
  };
  readonly send: {
    readonly asked: { readonly sender: Sender; readonly channel: string; readonly args: unknown[] };
    readonly answer: null;
  };
  readonly serve: {
    readonly asked: { readonly url: string; readonly method: string };
    readonly answer: {
      readonly status: number;
      readonly headers: Record<string, string>;
      readonly body: Uint8Array;
    } | null;
  };
  /** An event with something to forbid; `args` follow it. @returns whether it was forbidden */
  readonly emit: {
    readonly asked: {
      readonly on: Place;
      readonly event: string;
      readonly url?: string;
      readonly args?: unknown[];
    };
    readonly answer: boolean;
  };
  readonly permission: {
    readonly asked: { readonly permission: string; readonly origin: string };
    readonly answer: { readonly check: boolean; readonly request: boolean };
  };
  readonly openWindow: { readonly asked: { readonly url: string }; readonly answer: "allow" | "deny" };
  readonly answers: { readonly asked: Partial<typeof answers>; readonly answer: null };
  /** The person closes the window. */
  readonly close: { readonly asked: null; readonly answer: null };
  readonly quit: { readonly asked: null; readonly answer: null };
  /** From now on the window is a page that the test drives. */
  readonly attach: { readonly asked: null; readonly answer: null };
}
export type Place = "app" | "window" | "contents" | "session" | "powerMonitor";

/** What the program has done so far. */
export interface Look {
  readonly ready: boolean;
  readonly order: readonly string[];
  readonly schemes: readonly string[];
  readonly served: readonly string[];
  readonly handlers: readonly string[];
  readonly listeners: Readonly<Record<Place | "ipcMain", readonly string[]>>;
  readonly handlersSet: Readonly<Record<string, boolean>>;
  readonly windows: readonly {
    readonly visible: boolean;
    readonly url: string;
    readonly preferences: object;
  }[];
  readonly utilities: readonly number[];
  readonly errorBoxes: readonly (readonly [string, string])[];
  readonly messageBoxes: readonly unknown[];
  readonly saveDialogs: readonly { readonly defaultPath?: string }[];
  readonly overwriteQuestions: readonly string[];
  readonly accelerators: readonly string[];
}

type Handlers = { readonly [A in keyof Asks]: (asked: Asks[A]["asked"]) => Promise<Asks[A]["answer"]> };

const own = () => openWindows()[0] ?? null;
const names = (emitter: EventEmitter | null | undefined) => emitter?.eventNames().map(String).sort() ?? [];

function place(name: Place): EventEmitter | null {
  const places = { app: theApp, session: theSession, powerMonitor, window: own(), contents: null };
  return name === "contents" ? (own()?.webContents ?? null) : places[name];
}

function senderOf(sender: Sender): object {
  const contents = own()?.webContents ?? null;
  return {
    sender: contents,
    senderFrame: sender.frame === "main" ? (contents?.mainFrame ?? null) : { url: sender.url },
  };
}

const handlers: Handlers = {
  async look() {
    const contents = own()?.webContents ?? null;
    return {
      ready: state.ready,
      order: state.order,
      schemes: state.schemes,
      served: [...state.served.keys()],
      handlers: [...state.handlers.keys()],
      listeners: {
        app: names(theApp),
        session: names(theSession),
        powerMonitor: names(powerMonitor),
        window: names(own()),
        contents: names(contents),
        ipcMain: names(ipcMain),
      },
      handlersSet: {
        permissionRequest: theSession.request !== null,
        permissionCheck: theSession.check !== null,
        device: theSession.device !== null,
        beforeRequest: theSession.before !== null,
        windowOpen: contents?.openHandler != null,
      },
      windows: openWindows().map((one) => ({
        visible: one.visible,
        url: one.webContents.mainFrame.url,
        preferences: JSON.parse(JSON.stringify(one.options)),
      })),
      utilities: state.utilities,
      errorBoxes: state.errorBoxes,
      messageBoxes: JSON.parse(JSON.stringify(state.messageBoxes)),
      saveDialogs: JSON.parse(JSON.stringify(state.saveDialogs)),
      overwriteQuestions: state.overwriteQuestions,
      accelerators: state.accelerators,
    };
  },
  async invoke({ sender, channel, args }) {
    const handler = state.handlers.get(channel);
    if (handler === undefined)
      throw new Error(`Error invoking remote method '${channel}': No handler registered for '${channel}'`);
    try {
      return await handler(senderOf(sender), ...args);
    } catch (error) {
      throw new Error(`Error invoking remote method '${channel}': ${error}`);
    }
  },
  async send({ sender, channel, args }) {
    ipcMain.emit(channel, senderOf(sender), ...args);
    return null;
  },
  async serve({ url, method }) {
    if (cancelled(url)) return null;
    const handler = state.served.get(new URL(url).protocol.slice(0, -1));
    if (handler === undefined) return null;
    const answer = await handler(new Request(url, { method }));
    return {
      status: answer.status,
      headers: Object.fromEntries(answer.headers),
      body: new Uint8Array(await answer.arrayBuffer()),
    };
  },
  async emit({ on, event, url = "", args = [] }) {
    const told = preventable(url);
    place(on)?.emit(event, told, ...args);
    return told.defaultPrevented;
  },
  /** Electron grants what no handler denies. */
  async permission({ permission, origin }) {
    const contents = own()?.webContents as never;
    const details = { requestingUrl: origin, isMainFrame: true, securityOrigin: origin } as never;
    const check = theSession.check?.(contents, permission as never, origin, details) ?? true;
    const request = await new Promise<boolean>((resolve) => {
      if (theSession.request === null) resolve(true);
      else theSession.request(contents, permission as never, resolve, details);
    });
    return { check, request };
  },
  async openWindow({ url }) {
    return own()?.webContents.openHandler?.({ url } as never).action ?? "allow";
  },
  async answers(asked) {
    Object.assign(answers, asked);
    return null;
  },
  async close() {
    own()?.close();
    return null;
  },
  async quit() {
    theApp.quit();
    return null;
  },
  async attach() {
    remote.page = pageOfTest;
    return null;
  },
};

function cancelled(url: string): boolean {
  let cancel = false;
  theSession.before?.({ url }, (answer) => {
    cancel = answer.cancel === true;
  });
  return cancel;
}

let asked = 0;
const waiting = new Map<number, PromiseWithResolvers<unknown>>();

function askTest(what: keyof RemotePage, value: unknown): Promise<unknown> {
  asked += 1;
  const answer = Promise.withResolvers<unknown>();
  waiting.set(asked, answer);
  process.send?.({ ask: what, id: asked, value });
  return answer.promise;
}

const pageOfTest: RemotePage = {
  load: async (url) => void (await askTest("load", url)),
  reload: async () => void (await askTest("reload", null)),
  pdf: async (options) => Buffer.from((await askTest("pdf", options)) as Uint8Array),
  unload: async () => (await askTest("unload", null)) === true,
};

interface FromTest {
  readonly id: number;
  readonly do?: keyof Asks;
  readonly asked?: unknown;
  readonly answer?: unknown;
  readonly failed?: string;
}

/** Answers the test on the other end of the line; ends with it. */
export function listen(): void {
  process.on("message", async (message: FromTest) => {
    if (message.do === undefined) {
      const open = waiting.get(message.id);
      waiting.delete(message.id);
      if (message.failed === undefined) open?.resolve(message.answer);
      else open?.reject(new Error(message.failed));
      return;
    }
    try {
      const answer = await handlers[message.do](message.asked as never);
      process.send?.({ id: message.id, answer });
    } catch (error) {
      process.send?.({ id: message.id, failed: error instanceof Error ? error.message : String(error) });
    }
  });
  process.on("disconnect", () => process.exit(1));
}
