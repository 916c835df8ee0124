import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";

const ENTRY = fileURLToPath(new URL("check-copy-process.ts", import.meta.url));

/** Checks a bench or its copy in a process of its own. @throws Error when it is stopped or ends without an answer */
export function checkCopyBeside(file: string, signal?: AbortSignal): Promise<readonly string[]> {
  return new Promise((resolve, reject) => {
    const child = fork(ENTRY, [file], { stdio: ["ignore", "ignore", "inherit", "ipc"] });
    signal?.addEventListener("abort", () => child.kill());
    child.on("error", reject);
    child.on("message", (faults) => resolve(faults as readonly string[]));
    child.on("exit", (code) => reject(new Error(`the check of the copy ended with code ${code}`)));
  });
}
