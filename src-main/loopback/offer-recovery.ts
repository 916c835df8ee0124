import { createInterface } from "node:readline/promises";
import type { ChooseRecovery } from "../open-bench.ts";
import type { BenchUnopenable } from "../store/bench-unopenable.ts";

/** What a terminal shows of a bench that does not open. */
export function troubleInWords(trouble: BenchUnopenable): string {
  const offers = trouble.offers.map((offer, at) => `  ${at + 1}  ${offer.words}`);
  return [trouble.message, trouble.hint, ...offers].filter((line) => line !== "").join("\n");
}

/**
 * Lets the person at the terminal choose a way out.
 * @param number the choice made beforehand with `--recover`; null asks, when there is someone to ask
 */
export function recoveryAtTerminal(number: number | null, log: (line: string) => void): ChooseRecovery {
  return async (trouble) => {
    log(troubleInWords(trouble));
    if (number !== null) return trouble.offers[number - 1] ?? null;
    if (!process.stdin.isTTY) {
      log("Start again with --recover and one of these numbers.");
      return null;
    }
    const terminal = createInterface({ input: process.stdin, output: process.stdout });
    try {
      const typed = await terminal.question("Which one? (Enter: none, change nothing) ");
      return trouble.offers[Number(typed.trim()) - 1] ?? null;
    } finally {
      terminal.close();
    }
  };
}
