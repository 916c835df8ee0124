import type { Clock } from "../ports/clock.ts";
import type { BenchPaths } from "../ports/paths.ts";
import { takeLock } from "./bench-lock.ts";
import { BenchUnopenable, type RecoveryOffer } from "./bench-unopenable.ts";
import { putAside, restoreCopy } from "./damage.ts";
import { forgetBench } from "./known-bench.ts";

export interface RecoverOptions {
  readonly paths: BenchPaths;
  readonly clock: Clock;
  readonly host: string;
}

/**
 * Carries out the way out a person chose. The file that did not open is renamed and kept, never deleted.
 * @returns what was done, in words
 * @throws BenchUnopenable `bench.locked`; Error when the backup chosen does not pass its check
 */
export function recover({ paths, clock, host }: RecoverOptions, offer: RecoveryOffer): string {
  const lock = takeLock(paths.databaseFile, host, clock.now());
  if (!lock) {
    throw new BenchUnopenable({
      code: "bench.locked",
      message: `The bench ${paths.databaseFile} is open in another window.`,
      hint: "Close it first.",
    });
  }
  try {
    if (offer.kind === "restore") {
      const aside = restoreCopy(paths, offer.fileName, clock.now());
      return `The backup ${offer.fileName} is in use now.${keptAs(aside)}`;
    }
    const aside = putAside(paths.databaseFile, clock.now());
    forgetBench(paths);
    return `An empty bench begins.${keptAs(aside)}`;
  } finally {
    lock.release();
  }
}

function keptAs(aside: string | null): string {
  return aside === null ? "" : ` The file that did not open is kept as ${aside}.`;
}
