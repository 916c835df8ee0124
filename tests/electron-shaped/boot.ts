import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Asks, Look } from "./control-line.ts";
import type { RemotePage } from "./stand-in-window.ts";

const here = (name: string) => fileURLToPath(new URL(name, import.meta.url));

export interface BootOptions {
  /** The built `main.js`. */
  readonly main: string;
  /** What stands on the program's line. */
  readonly line: readonly string[];
  /** The folder Electron was started in. */
  readonly folder?: string;
  readonly packaged?: boolean;
  readonly environment?: Readonly<Record<string, string>>;
}

/** The built main process under the stand-in, in a process of its own. */
export interface Booted {
  readonly process: ChildProcess;
  ask<A extends keyof Asks>(what: A, asked: Asks[A]["asked"]): Promise<Asks[A]["answer"]>;
  look(): Promise<Look>;
  /** Everything printed so far. */
  output(): string;
  /** The exit code, when it has ended. */
  readonly ended: Promise<number | null>;
  /** The page that stands for the window from now on. */
  attach(page: RemotePage): Promise<void>;
}

export function boot({ main, line, folder, packaged = false, environment = {} }: BootOptions): Booted {
  const child = fork(here("start-order.ts"), [main, ...line], {
    serialization: "advanced",
    execArgv: ["--import", here("register.ts")],
    stdio: ["ignore", "pipe", "pipe", "ipc"],
    ...(folder === undefined ? {} : { cwd: folder }),
    env: { ...process.env, LINEFALL_STAND_IN_PACKAGED: packaged ? "1" : "0", ...environment },
  });
  let printed = "";
  for (const stream of [child.stdout, child.stderr])
    stream?.on("data", (chunk: Buffer) => {
      printed += chunk.toString("utf8");
    });
  const waiting = new Map<number, PromiseWithResolvers<never>>();
  let page: RemotePage | null = null;
  let asked = 0;
  const ended = new Promise<number | null>((resolve) => {
    child.on("exit", (code) => {
      for (const open of waiting.values())
        open.reject(new Error(`The program has ended. It printed:\n${printed}`));
      resolve(code);
    });
  });
  async function answerChild(what: keyof RemotePage, id: number, value: unknown): Promise<void> {
    try {
      if (page === null) throw new Error("there is no page");
      const answer = await page[what](value as never);
      if (child.connected) child.send({ id, answer });
    } catch (error) {
      if (child.connected) child.send({ id, failed: error instanceof Error ? error.message : String(error) });
    }
  }
  child.on(
    "message",
    (message: { id: number; ask?: keyof RemotePage; value?: unknown; answer?: never; failed?: string }) => {
      if (message.ask !== undefined) return void answerChild(message.ask, message.id, message.value);
      const open = waiting.get(message.id);
      waiting.delete(message.id);
      if (message.failed === undefined) open?.resolve(message.answer as never);
      else open?.reject(new Error(message.failed));
    },
  );
  const booted: Booted = {
    process: child,
    ask(what, value) {
      asked += 1;
      const answer = Promise.withResolvers<never>();
      waiting.set(asked, answer);
      if (child.connected) child.send({ id: asked, do: what, asked: value });
      else answer.reject(new Error(`The program has ended. It printed:\n${printed}`));
      return answer.promise;
    },
    look: () => booted.ask("look", null),
    output: () => printed,
    ended,
    async attach(attached) {
      page = attached;
      await booted.ask("attach", null);
    },
  };
  return booted;
}
