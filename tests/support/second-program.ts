import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Unprivileged } from "./unprivileged.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const CHILD = join(ROOT, "tests", "support", "open-bench-child.ts");
/** Node 24 itself, not a wrapper: a signal must reach the process that holds the bench. */
const NODE = process.execPath;

export interface SecondProgram {
  readonly opened: boolean;
  readonly code?: string;
  readonly message?: string;
  readonly child: ChildProcess;
  /** Lets it close the bench and end. */
  end(): Promise<void>;
  /** Ends it at once, as a power cut would. */
  kill9(): Promise<void>;
}

/** Opens the bench in a process of its own, as `person` where given. */
export async function secondProgram(folder: string, person?: Unprivileged): Promise<SecondProgram> {
  const [program, ...args] = person?.command(NODE, [CHILD, folder]) ?? [NODE, CHILD, folder];
  const child = spawn(program, args, { stdio: ["pipe", "pipe", "inherit"] });
  let said = "";
  for await (const chunk of child.stdout) {
    said += String(chunk);
    if (said.includes("\n")) break;
  }
  const gone = async (act: () => void): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const exited = once(child, "exit");
    act();
    await exited;
  };
  return {
    ...(JSON.parse(said) as { opened: boolean; code?: string; message?: string }),
    child,
    end: () => gone(() => child.stdin.end()),
    kill9: () => gone(() => child.kill("SIGKILL")),
  };
}
