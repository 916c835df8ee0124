import { EventEmitter } from "node:events";
import { ServiceChildStandIn } from "./service-child.ts";

/**
 * A stand-in for the module `electron` that writes down what the shell asks of it. Use it as
 * `vi.mock("electron", async () => (await import("<here>")).electron)`; `startAfresh()` forgets what was recorded.
 */
export const recorded = {
  order: [] as string[],
  schemes: [] as unknown[],
  handlers: new Map<string, (...args: never[]) => unknown>(),
  listeners: new Map<string, (...args: never[]) => void>(),
  sent: [] as [string, unknown][],
  served: new Map<string, (request: Request) => Response | Promise<Response>>(),
  windows: [] as StandInWindow[],
  paths: new Map<string, string>(),
  menus: [] as unknown[],
  errorBoxes: [] as [string, string][],
  exitCodes: [] as number[],
  quits: 0,
  switches: [] as string[],
  exposed: new Map<string, unknown>(),
  invoked: [] as [string, unknown][],
  openDialogs: [] as unknown[],
  services: [] as ServiceChildStandIn[],
};

/** What the person answers, and what the system says; set by a test. */
export const answers = {
  singleInstance: true,
  packaged: false,
  savePath: { canceled: true, filePath: "" },
  button: 0,
  invoke: async (_channel: string, _input: unknown): Promise<unknown> => null,
};

export class StandInContents extends EventEmitter {
  readonly mainFrame = { url: "linefall://bench/index.html" };
  openHandler: ((details: { url: string }) => { action: string }) | null = null;
  reloads = 0;
  setWindowOpenHandler(handler: (details: { url: string }) => { action: string }): void {
    this.openHandler = handler;
  }
  reload(): void {
    this.reloads += 1;
  }
}

export class StandInWindow extends EventEmitter {
  readonly options: Record<string, unknown>;
  readonly webContents = new StandInContents();
  readonly loaded: string[] = [];
  minimized = false;
  closes = 0;
  destroyed = false;
  shown = 0;
  focused = 0;
  menuBar = true;
  constructor(options: Record<string, unknown>) {
    super();
    this.options = options;
    recorded.windows.push(this);
    electron.app.emit("web-contents-created", {}, this.webContents);
  }
  async loadURL(address: string): Promise<void> {
    this.loaded.push(address);
  }
  setMenuBarVisibility(visible: boolean): void {
    this.menuBar = visible;
  }
  isDestroyed(): boolean {
    return this.destroyed;
  }
  close(): void {
    this.closes += 1;
  }
  isMinimized(): boolean {
    return this.minimized;
  }
  restore(): void {
    this.minimized = false;
  }
  show(): void {
    this.shown += 1;
  }
  focus(): void {
    this.focused += 1;
  }
}

class StandInApp extends EventEmitter {
  get isPackaged(): boolean {
    return answers.packaged;
  }
  readonly commandLine = {
    appendSwitch(name: string): void {
      recorded.switches.push(name);
    },
  };
  enableSandbox(): void {
    recorded.order.push("sandbox");
  }
  setPath(name: string, path: string): void {
    recorded.paths.set(name, path);
  }
  getPath(name: string): string {
    return recorded.paths.get(name) ?? `/nowhere/${name}`;
  }
  getVersion(): string {
    return "9.9.9";
  }
  requestSingleInstanceLock(): boolean {
    recorded.order.push("lock");
    return answers.singleInstance;
  }
  async whenReady(): Promise<void> {
    recorded.order.push("ready");
  }
  relaunch(): void {
    recorded.order.push("relaunch");
  }
  quit(): void {
    recorded.quits += 1;
  }
  exit(code: number): void {
    recorded.exitCodes.push(code);
  }
}

type Handler = (...args: never[]) => unknown;

export class StandInSession extends EventEmitter {
  requestHandler: Handler | null = null;
  checkHandler: Handler | null = null;
  deviceHandler: Handler | null = null;
  beforeRequest: ((details: { url: string }, answer: (to: { cancel: boolean }) => void) => void) | null =
    null;
  readonly webRequest = {
    onBeforeRequest: (handler: NonNullable<StandInSession["beforeRequest"]>) => {
      this.beforeRequest = handler;
    },
  };
  setPermissionRequestHandler(handler: Handler): void {
    this.requestHandler = handler;
  }
  setPermissionCheckHandler(handler: Handler): void {
    this.checkHandler = handler;
  }
  setDevicePermissionHandler(handler: Handler): void {
    this.deviceHandler = handler;
  }
}

export const electron = {
  app: new StandInApp(),
  BrowserWindow: StandInWindow,
  session: { defaultSession: new StandInSession() },
  protocol: {
    registerSchemesAsPrivileged(schemes: unknown[]): void {
      recorded.order.push("scheme");
      recorded.schemes.push(...schemes);
    },
    handle(scheme: string, handler: (request: Request) => Response | Promise<Response>): void {
      recorded.served.set(scheme, handler);
    },
  },
  shell: { showItemInFolder: (): void => undefined },
  /** A desktop without a keychain. */
  safeStorage: {
    isAsyncEncryptionAvailable: async (): Promise<boolean> => false,
    encryptStringAsync: async (): Promise<Buffer> => {
      throw new Error("encryption is not available");
    },
    decryptStringAsync: async (): Promise<never> => {
      throw new Error("encryption is not available");
    },
  },
  utilityProcess: {
    fork(entry: string, args: readonly string[]): ServiceChildStandIn {
      if (!recorded.order.includes("ready"))
        throw new Error("utilityProcess cannot be used before app is ready");
      const child = new ServiceChildStandIn(entry, args);
      recorded.services.push(child);
      return child;
    },
  },
  powerMonitor: new EventEmitter(),
  ipcMain: {
    on(channel: string, listener: (...args: never[]) => void): void {
      recorded.listeners.set(channel, listener);
    },
    handle(channel: string, handler: (...args: never[]) => unknown): void {
      if (recorded.handlers.has(channel))
        throw new Error(`Attempted to register a second handler for '${channel}'`);
      recorded.handlers.set(channel, handler);
    },
  },
  ipcRenderer: {
    send(channel: string, input: unknown): void {
      recorded.sent.push([channel, input]);
    },
    invoke(channel: string, input: unknown): Promise<unknown> {
      recorded.invoked.push([channel, input]);
      return answers.invoke(channel, input);
    },
  },
  contextBridge: {
    exposeInMainWorld(name: string, api: unknown): void {
      recorded.exposed.set(name, api);
    },
  },
  Menu: {
    buildFromTemplate: (template: unknown) => template,
    setApplicationMenu(menu: unknown): void {
      recorded.menus.push(menu);
    },
  },
  dialog: {
    async showSaveDialog(...args: unknown[]): Promise<typeof answers.savePath> {
      recorded.openDialogs.push(args.at(-1));
      return answers.savePath;
    },
    async showMessageBox(...args: unknown[]): Promise<{ response: number }> {
      recorded.openDialogs.push(args.at(-1));
      return { response: answers.button };
    },
    showErrorBox(title: string, text: string): void {
      recorded.errorBoxes.push([title, text]);
    },
  },
};

export function startAfresh(): void {
  electron.app.removeAllListeners();
  electron.powerMonitor.removeAllListeners();
  electron.session.defaultSession = new StandInSession();
  for (const list of [
    recorded.order,
    recorded.switches,
    recorded.schemes,
    recorded.windows,
    recorded.menus,
    recorded.services,
  ])
    list.length = 0;
  for (const list of [
    recorded.errorBoxes,
    recorded.exitCodes,
    recorded.invoked,
    recorded.openDialogs,
    recorded.sent,
  ]) {
    list.length = 0;
  }
  for (const map of [
    recorded.handlers,
    recorded.listeners,
    recorded.served,
    recorded.paths,
    recorded.exposed,
  ])
    map.clear();
  recorded.quits = 0;
  Object.assign(answers, {
    singleInstance: true,
    packaged: false,
    savePath: { canceled: true, filePath: "" },
    button: 0,
    invoke: async () => null,
  });
}
