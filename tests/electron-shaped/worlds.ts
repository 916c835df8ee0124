/** Both functions are handed to the page as text: they use nothing from outside themselves. */

type Shape =
  | { readonly kind: "value"; readonly value: unknown }
  | { readonly kind: "function" }
  | { readonly kind: "object"; readonly fields: Readonly<Record<string, Shape>> };

/**
 * The page's own world: makes what the preload exposes. Values cross as copies, functions as calls (docs/api/
 * context-bridge.md: everything is copied and frozen; what cannot be cloned throws).
 */
export function mainWorld(key: string): void {
  const pending = new Map<number, { resolve(value: unknown): void; reject(error: Error): void }>();
  let calls = 0;
  let answer: { kind: string; value?: unknown } = { kind: "none" };
  const copied = (value: unknown): unknown => {
    if (typeof value === "function" || typeof value === "symbol")
      throw new TypeError("An object could not be cloned.");
    return value === undefined ? undefined : JSON.parse(JSON.stringify(structuredClone(value)));
  };
  const call = (path: readonly string[], args: readonly unknown[]): unknown => {
    calls += 1;
    const id = calls;
    const detail = JSON.stringify({ id, path, args: args.map(copied) });
    window.dispatchEvent(new CustomEvent(`${key}-call`, { detail }));
    if (answer.kind === "throw") throw new Error(String(answer.value));
    if (answer.kind === "value") return answer.value;
    return new Promise((resolve, reject) => pending.set(id, { resolve, reject }));
  };
  const made = (shape: Shape, path: readonly string[]): unknown => {
    if (shape.kind === "function") return (...args: unknown[]) => call(path, args);
    if (shape.kind === "value") return shape.value;
    const fields = Object.entries(shape.fields).map(([name, field]) => [name, made(field, [...path, name])]);
    return Object.freeze(Object.fromEntries(fields));
  };
  window.addEventListener(`${key}-expose`, (event) => {
    const { name, shape } = JSON.parse((event as CustomEvent<string>).detail) as {
      name: string;
      shape: Shape;
    };
    if (name in window)
      throw new Error(`Cannot bind an API on top of an existing property on the window object`);
    Object.defineProperty(window, name, { value: made(shape, [name]), enumerable: true });
  });
  window.addEventListener(`${key}-answer`, (event) => {
    answer = JSON.parse((event as CustomEvent<string>).detail);
  });
  window.addEventListener(`${key}-settled`, (event) => {
    const { id, ok, value } = JSON.parse((event as CustomEvent<string>).detail);
    const open = pending.get(id);
    pending.delete(id);
    if (ok) open?.resolve(value);
    else open?.reject(new Error(value));
  });
}

/** The preload's isolated world: a sandboxed `require` and the module electron as a renderer has it. */
export function preloadWorld(
  key: string,
  preload: (require: (name: string) => unknown, module: object, exports: object) => void,
): void {
  const world = globalThis as unknown as {
    linefallIpc(payload: string): void;
    linefallIpcAnswer?: (id: number, ok: boolean, value: unknown) => void;
  };
  // Not the page's own window: same document, other variables.
  const invoked = new Map<number, { resolve(value: unknown): void; reject(error: Error): void }>();
  const exposed = new Map<string, unknown>();
  let invocations = 0;
  world.linefallIpcAnswer = (id, ok, value) => {
    const open = invoked.get(id);
    invoked.delete(id);
    if (ok) open?.resolve(value);
    else open?.reject(new Error(String(value)));
  };
  const tell = (name: string, detail: unknown) =>
    window.dispatchEvent(new CustomEvent(`${key}-${name}`, { detail: JSON.stringify(detail) }));
  const shapeOf = (value: unknown): Shape => {
    if (typeof value === "function") return { kind: "function" };
    if (typeof value !== "object" || value === null) return { kind: "value", value };
    const fields = Object.entries(value).map(([name, field]) => [name, shapeOf(field)] as const);
    return { kind: "object", fields: Object.fromEntries(fields) };
  };
  const cloneable = (args: unknown[]) => structuredClone(args);
  window.addEventListener(`${key}-call`, (event) => {
    const { id, path, args } = JSON.parse((event as CustomEvent<string>).detail);
    const [name, ...rest] = path as string[];
    let target: unknown = exposed.get(name ?? "");
    for (const step of rest) target = (target as Record<string, unknown>)[step];
    try {
      const value = (target as (...all: unknown[]) => unknown)(...args);
      if (!(value instanceof Promise)) return tell("answer", { kind: "value", value });
      tell("answer", { kind: "promise" });
      value.then(
        (settled) => tell("settled", { id, ok: true, value: settled }),
        (error: Error) => tell("settled", { id, ok: false, value: error.message }),
      );
    } catch (error) {
      tell("answer", { kind: "throw", value: (error as Error).message });
    }
  });
  const electron = {
    contextBridge: {
      exposeInMainWorld(name: string, api: unknown) {
        exposed.set(name, api);
        tell("expose", { name, shape: shapeOf(api) });
      },
    },
    ipcRenderer: {
      invoke(channel: string, ...args: unknown[]) {
        invocations += 1;
        const id = invocations;
        const payload = JSON.stringify({ kind: "invoke", id, channel, args: cloneable(args) });
        return new Promise((resolve, reject) => {
          invoked.set(id, { resolve, reject });
          world.linefallIpc(payload);
        });
      },
      send(channel: string, ...args: unknown[]) {
        world.linefallIpc(JSON.stringify({ kind: "send", id: 0, channel, args: cloneable(args) }));
      },
    },
  };
  const require = (name: string) => {
    if (name !== "electron") throw new Error(`module not found: ${name}`);
    return electron;
  };
  // A sandboxed preload is one CommonJS file (docs/tutorial/sandbox.md).
  preload(require, { exports: {} }, {});
}
