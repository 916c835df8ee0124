import type { Program, ProgramOptions } from "./program.ts";
import { BenchUnopenable, type RecoveryOffer } from "./store/bench-unopenable.ts";

/**
 * Opens a bench and puts store, services and dispatcher together; used by both hosts and by the tests.
 * @throws BenchUnopenable when the bench is locked, newer, foreign, damaged, missing or not writable
 */
export async function assemble(options: ProgramOptions): Promise<Program> {
  throw new BenchUnopenable({
    code: "bench.missing",
    message: `${options.paths.databaseFile} cannot be opened yet.`,
    hint: "",
  });
}

/**
 * Carries out the way out a person chose from `BenchUnopenable.offers`. The file that did not open is renamed and kept.
 * @returns what was done, in words
 */
export async function recoverBench(options: ProgramOptions, offer: RecoveryOffer): Promise<string> {
  throw new Error(`${options.paths.databaseFile}: ${offer.kind}`);
}
