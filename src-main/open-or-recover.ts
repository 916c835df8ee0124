import { assemble, recoverBench } from "./assemble.ts";
import type { Program, ProgramOptions } from "./program.ts";
import { BenchUnopenable, type RecoveryOffer } from "./store/bench-file/bench-unopenable.ts";

/** Asks the person which way out to take; null when none. */
export type ChooseRecovery = (trouble: BenchUnopenable) => Promise<RecoveryOffer | null>;

/**
 * Opens the bench, and when it does not open but could be recovered, asks once and opens what came of it.
 * @throws BenchUnopenable when there is no way out or the person takes none
 */
export async function openOrRecover(options: ProgramOptions, choose: ChooseRecovery): Promise<Program> {
  try {
    return await assemble(options);
  } catch (trouble) {
    if (!(trouble instanceof BenchUnopenable) || trouble.offers.length === 0) throw trouble;
    const offer = await choose(trouble);
    if (offer === null) throw trouble;
    options.log?.(await recoverBench(options, offer));
    return assemble(options);
  }
}
