import { type ChildProcess, fork } from "node:child_process";
import { EventEmitter } from "node:events";
import { fileURLToPath } from "node:url";

const PARENT_PORT = new URL("./parent-port-child.ts", import.meta.url).href;
export const SERVICE_ENTRY = fileURLToPath(
  new URL("../../src-main/electron/service-process.ts", import.meta.url),
);

export const COPY_WORK_ENTRY = fileURLToPath(
  new URL("../../src-main/electron/copy-work-process.ts", import.meta.url),
);

/** A service process under plain Node, with the face of Electron's `UtilityProcess`. */
export class ServiceChildStandIn extends EventEmitter {
  readonly process: ChildProcess;

  constructor(entry: string, args: readonly string[] = []) {
    super();
    const execArgv = ["--import", PARENT_PORT];
    this.process = fork(entry, [...args], {
      serialization: "advanced",
      execArgv,
      stdio: ["ignore", "ignore", "inherit", "ipc"],
    });
    this.process.on("message", (message) => this.emit("message", message));
    this.process.on("exit", (code) => this.emit("exit", code ?? 1));
  }

  /** As in Electron, a message to a process that has ended goes nowhere and says nothing. */
  postMessage(message: unknown): void {
    if (this.process.connected) this.process.send(message as never);
  }
}
