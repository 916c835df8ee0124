import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import { type CopyOrder, orderAsWord } from "../ports/copy-work.ts";

const ENTRY = fileURLToPath(new URL("copy-work-process.ts", import.meta.url));

/** Carries out an order in a process of its own. @throws Error when it is stopped or ends without an answer */
export function copyWorkBeside(order: CopyOrder, signal?: AbortSignal): Promise<readonly string[]> {
  return new Promise((resolve, reject) => {
    const child = fork(ENTRY, [orderAsWord(order)], { stdio: ["ignore", "ignore", "inherit", "ipc"] });
    signal?.addEventListener("abort", () => child.kill());
    child.on("error", reject);
    child.on("message", (faults) => resolve(faults as readonly string[]));
    child.on("exit", (code) => reject(new Error(`the work on the copy ended with code ${code}`)));
  });
}
