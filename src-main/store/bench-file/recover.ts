import type { Clock } from "../../ports/clock.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { takeLock } from "./bench-lock.ts";
import { BenchUnopenable, type RecoveryOffer } from "./bench-unopenable.ts";
import { putAside, restoreCopy } from "./damage.ts";
import { forgetBench } from "./known-bench.ts";

export interface RecoverOptions {
  readonly paths: BenchPaths;
  readonly clock: Clock;
  readonly host: string;
}

/** Runs under the lock of a bench that is not open. @throws BenchUnopenable `bench.locked` */
function underLock<T>({ paths, clock, host }: RecoverOptions, act: () => T): T {
  const lock = takeLock(paths.databaseFile, host, clock.now());
  if (!lock) {
    throw new BenchUnopenable({
      code: "bench.locked",
      message: `The bench ${paths.databaseFile} is open in another window.`,
      hint: "Close it first.",
    });
  }
  try {
    return act();
  } finally {
    lock.release();
  }
}

/**
 * Sets a checked backup in the place of a whole bench, which is kept under another name.
 * @returns where it is kept
 * @throws BenchUnopenable `bench.locked`; Error when the backup does not pass its check
 */
export function restoreInPlace(options: RecoverOptions, fileName: string): string | null {
  return underLock(options, () =>
    restoreCopy(options.paths, fileName, options.clock.now(), "before-restore"),
  );
}

/**
 * Carries out the way out a person chose. The file that did not open is renamed and kept, never deleted.
 * @returns what was done, in words
 * @throws BenchUnopenable `bench.locked`; Error when the backup chosen does not pass its check
 */
export function recover(options: RecoverOptions, offer: RecoveryOffer): string {
  const { paths, clock } = options;
  return underLock(options, () => {
    if (offer.kind === "restore") {
      const aside = restoreCopy(paths, offer.fileName, clock.now());
      return `The backup ${offer.fileName} is in use now.${keptAs(aside)}`;
    }
    const aside = putAside(paths.databaseFile, clock.now());
    forgetBench(paths);
    return `An empty bench begins.${keptAs(aside)}`;
  });
}

function keptAs(aside: string | null): string {
  return aside === null ? "" : ` The file that did not open is kept as ${aside}.`;
}
