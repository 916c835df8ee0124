import { resolve } from "node:path";
import { BenchUnopenable } from "../store/bench-unopenable.ts";
import { troubleInWords } from "./offer-recovery.ts";
import { parseStart, USAGE } from "./options.ts";
import { runLoopbackHost } from "./run.ts";

/**
 * The loopback host as a program: `node src-main/loopback/main.ts [options]`, unbundled. Ends with code 0 when its
 * last window closes or on Ctrl+C, with 1 and a sentence when the bench does not open, with 2 on a wrong option.
 */
async function main(): Promise<number> {
  if (process.versions.electron !== undefined) {
    console.error("The loopback host does not run inside Electron.");
    return 2;
  }
  let start: ReturnType<typeof parseStart>;
  try {
    start = parseStart(process.argv.slice(2));
  } catch (error) {
    console.error(`${(error as Error).message}\n${USAGE}`);
    return 2;
  }
  try {
    const folder = start.folder === null ? null : resolve(start.folder);
    await runLoopbackHost({ ...start, folder }, (line) => console.log(line));
    return 0;
  } catch (error) {
    console.error(error instanceof BenchUnopenable ? troubleInWords(error) : (error as Error).message);
    return 1;
  }
}

process.exitCode = await main();
