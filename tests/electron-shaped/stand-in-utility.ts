import { type ChildProcess, fork } from "node:child_process";
import { EventEmitter } from "node:events";
import type { ForkOptions, UtilityProcess } from "electron";
import { cloned, note, state } from "./stand-in-state.ts";

const PARENT_PORT = new URL("../support/parent-port-child.ts", import.meta.url).href;

type Asked = Pick<UtilityProcess, "kill" | "pid">;

/** A real process with `process.parentPort`; it ends with the process that began it. */
export class UtilityChild extends EventEmitter implements Asked {
  readonly process: ChildProcess;
  pid: number | undefined;

  constructor(modulePath: string, args: string[], { serviceName, execArgv = [], env }: ForkOptions) {
    super();
    note(`utilityProcess ${serviceName ?? "Node Utility Process"}`);
    this.process = fork(modulePath, args, {
      serialization: "advanced",
      execArgv: ["--import", PARENT_PORT, ...execArgv],
      stdio: ["ignore", "inherit", "inherit", "ipc"],
      env: { ...(env ?? process.env) },
    });
    this.process.once("spawn", () => {
      this.pid = this.process.pid;
      state.utilities.push(this.process.pid ?? -1);
      this.emit("spawn");
    });
    this.process.on("message", (message) => this.emit("message", message));
    this.process.on("exit", (code) => {
      this.pid = undefined;
      this.emit("exit", code ?? 1);
    });
    process.on("exit", () => this.process.kill("SIGKILL"));
  }

  /** A message to a process that has ended goes nowhere and says nothing. @throws TypeError for what cannot be cloned */
  postMessage(message: unknown): void {
    const copy = cloned(message);
    if (this.process.connected) this.process.send(copy as never);
  }
  kill(): boolean {
    return this.process.kill("SIGTERM");
  }
}
