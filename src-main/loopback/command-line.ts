import { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";
import { troubleInWords } from "./offer-recovery.ts";
import { type LoopbackStart, parseStart, USAGE } from "./options.ts";

/**
 * Runs a program that takes the loopback host's options. Its code is 1, with a sentence, when the bench does not open,
 * and 2 on a wrong option.
 */
export async function runCommand(
  argv: readonly string[],
  run: (start: LoopbackStart, log: (line: string) => void) => Promise<number>,
): Promise<number> {
  let start: LoopbackStart;
  try {
    start = parseStart(argv);
  } catch (error) {
    console.error(`${(error as Error).message}\n${USAGE}`);
    return 2;
  }
  try {
    return await run(start, (line) => console.log(line));
  } catch (error) {
    console.error(error instanceof BenchUnopenable ? troubleInWords(error) : (error as Error).message);
    return 1;
  }
}
