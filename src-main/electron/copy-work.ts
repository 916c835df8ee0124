import { utilityProcess } from "electron";
import { type CopyOrder, orderAsWord } from "../ports/copy-work.ts";

/**
 * Carries out an order in a process of its own.
 * @param entry of that process, as built
 * @throws Error when it is stopped or ends without an answer
 */
export function copyWorkBeside(
  entry: string,
  order: CopyOrder,
  signal: AbortSignal,
): Promise<readonly string[]> {
  const child = utilityProcess.fork(entry, [orderAsWord(order)], { serviceName: "Linefall copies" });
  signal.addEventListener("abort", () => void child.kill());
  return new Promise((resolve, reject) => {
    child.on("message", (faults: readonly string[]) => {
      child.postMessage("heard");
      resolve(faults);
    });
    child.on("exit", (code) => reject(new Error(`the work on the copy ended with code ${code}`)));
  });
}
