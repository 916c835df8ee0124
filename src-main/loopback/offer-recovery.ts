import { createInterface } from "node:readline/promises";
import type { ChooseRecovery } from "../open-or-recover.ts";
import type { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";

/** What a terminal shows of a bench that does not open. */
export function troubleInWords(trouble: BenchUnopenable): string {
  const offers = trouble.offers.map((offer, at) => `  ${at + 1}  ${offer.words}`);
  const how =
    offers.length === 0 ? "" : "To take one of these ways out, start again with --recover and its number.";
  return [trouble.message, trouble.hint, ...offers, how].filter((line) => line !== "").join("\n");
}

/**
 * Lets the person at the terminal choose a way out; where nobody can be asked, none is taken.
 * @param number the choice made beforehand with `--recover`; null asks
 */
export function recoveryAtTerminal(number: number | null, log: (line: string) => void): ChooseRecovery {
  return async (trouble) => {
    if (number !== null) return trouble.offers[number - 1] ?? null;
    if (!process.stdin.isTTY) return null;
    log(troubleInWords(trouble));
    const terminal = createInterface({ input: process.stdin, output: process.stdout });
    try {
      const typed = await terminal.question("Which one now? (Enter: none, change nothing) ");
      return trouble.offers[Number(typed.trim()) - 1] ?? null;
    } finally {
      terminal.close();
    }
  };
}
