import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const HOST = join(ROOT, "src-main", "loopback", "main.ts");
const NODE = join(ROOT, "node_modules", ".bin", process.platform === "win32" ? "node.exe" : "node");
const PATIENCE_MS = 60_000;

export interface LoopbackProgram {
  /** The bench's folder; removed by `stop` unless it was given. */
  readonly folder: string;
  /** The one-time address printed at the last start: `http://127.0.0.1:PORT/enter#TOKEN`. */
  readonly address: string;
  /** `http://127.0.0.1:PORT` */
  readonly origin: string;
  readonly pid: number;
  /** A further one-time address, for one more window. */
  freshAddress(): string;
  /** Everything the program has printed since the last start. */
  output(): string;
  /** Ends the program as Ctrl+C does and waits until it is gone. */
  end(): Promise<number | null>;
  /** Ends the program at once, as a power cut would. */
  kill9(): Promise<void>;
  /** Starts again on the same bench, after `end` or `kill9`; the address is a new one. */
  restart(): Promise<void>;
  /** Ends the program, if it still runs, and removes the folder. */
  stop(): Promise<void>;
}

export interface LoopbackProgramOptions {
  /** The bench to open; without it an empty one in a new folder. */
  readonly folder?: string;
  /** Builds the invented bench first. */
  readonly demo?: boolean;
  readonly port?: number;
  readonly environment?: Readonly<Record<string, string>>;
}

/** Builds the window where no `npm run build` has; `npm test` builds before. */
function ensureBuilt(): void {
  if (existsSync(join(ROOT, "out", "renderer", "index.html"))) return;
  spawnSync("npm", ["run", "--silent", "build"], { cwd: ROOT, shell: process.platform === "win32" });
}

/**
 * Starts the real loopback process without a window.
 * @throws when the program ends or says nothing of an address within a minute
 */
export async function startLoopbackProgram(options: LoopbackProgramOptions = {}): Promise<LoopbackProgram> {
  ensureBuilt();
  const folder = options.folder ?? mkdtempSync(join(tmpdir(), "linefall-test-"));
  let running = await run(folder, options);
  const gone = async (signal: NodeJS.Signals): Promise<number | null> => {
    const { child } = running;
    if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
    const exited = new Promise<number | null>((resolve) => child.once("exit", resolve));
    child.kill(signal);
    return exited;
  };
  return {
    folder,
    get address() {
      return running.address;
    },
    get origin() {
      return new URL(running.address).origin;
    },
    get pid() {
      return running.child.pid ?? -1;
    },
    freshAddress() {
      const left = JSON.parse(readFileSync(join(folder, "running.json"), "utf8")) as { invitation: string };
      return left.invitation;
    },
    output: () => running.output(),
    end: () => gone("SIGINT"),
    async kill9() {
      await gone("SIGKILL");
    },
    async restart() {
      await gone("SIGINT");
      running = await run(folder, options);
    },
    async stop() {
      await gone("SIGINT");
      if (options.folder === undefined) rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}

interface Running {
  readonly child: ChildProcess;
  readonly address: string;
  output(): string;
}

function run(folder: string, { demo, port, environment }: LoopbackProgramOptions): Promise<Running> {
  const args = [HOST, "--no-window", "--data", folder];
  if (demo === true) args.push("--demo");
  if (port !== undefined) args.push("--port", String(port));
  const child = spawn(NODE, args, {
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, ...environment },
  });
  let output = "";
  return new Promise((resolve, reject) => {
    const failed = (why: string) => reject(new Error(`The loopback program ${why}. It printed:\n${output}`));
    const waiting = setTimeout(() => {
      child.kill("SIGKILL");
      failed("gave no address");
    }, PATIENCE_MS);
    const read = (chunk: Buffer) => {
      output += chunk.toString("utf8");
      const address = /Linefall is at (http:\/\/127\.0\.0\.1:\d+\/enter#[\w-]{43})\s/.exec(output)?.[1];
      if (address === undefined) return;
      clearTimeout(waiting);
      resolve({ child, address, output: () => output });
    };
    child.stdout.on("data", read);
    child.stderr.on("data", read);
    child.on("error", (error) => failed(error.message));
    child.on("exit", (code) => {
      clearTimeout(waiting);
      failed(`ended with code ${code}`);
    });
  });
}
