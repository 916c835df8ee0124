import { utilityProcess } from "electron";

/**
 * Checks a bench or its copy in a process of its own.
 * @param entry of that process, as built
 * @throws Error when it is stopped or ends without an answer
 */
export function checkCopyBeside(
  entry: string,
  file: string,
  signal: AbortSignal,
): Promise<readonly string[]> {
  const child = utilityProcess.fork(entry, [file], { serviceName: "Linefall copy check" });
  signal.addEventListener("abort", () => void child.kill());
  return new Promise((resolve, reject) => {
    child.on("message", (faults: readonly string[]) => {
      child.postMessage("heard");
      resolve(faults);
    });
    child.on("exit", (code) => reject(new Error(`the check of the copy ended with code ${code}`)));
  });
}
