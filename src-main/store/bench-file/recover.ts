import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { Clock } from "../../ports/clock.ts";
import type { BenchPaths } from "../../ports/paths.ts";
import { takeLock } from "./bench-lock.ts";
import { BenchUnopenable, type RecoveryOffer } from "./bench-unopenable.ts";
import { forgetMark, setWalAside } from "./foreign-wal.ts";
import { forgetBench } from "./known-bench.ts";
import { asideName, carryOut, forgetSwap, putAside, type Restored, stageCopy } from "./swap.ts";

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
 * Sets a copy that lies ready (`stageCopy`) in the place of a whole bench, which is kept under another name.
 * @returns the path where it is kept
 * @throws BenchUnopenable `bench.locked`; file errors as they come
 */
export function restoreInPlace(options: RecoverOptions, restored: Restored): string {
  const { paths, clock } = options;
  const aside = asideName(paths.databaseFile, "before-restore", clock.now());
  underLock(options, () => carryOut(paths, { way: "copy", aside, restored }));
  return join(dirname(paths.databaseFile), aside);
}

/** Puts the bench back that a restore kept aside: what was set in its place did not open. */
export function undoRestore(options: RecoverOptions, aside: string): void {
  const { paths } = options;
  underLock(options, () => {
    carryOut(paths, { way: "back", aside: basename(aside), restored: null });
    forgetMark(paths);
    forgetSwap(paths);
  });
}

const DID_NOT_OPEN = "the bench did not open";

/**
 * Carries out the way out a person chose. The file that did not open is renamed and kept, never deleted.
 * @returns what was done, in words
 * @throws BenchUnopenable `bench.locked`; Error when the backup chosen does not pass its check
 */
export function recover(options: RecoverOptions, offer: RecoveryOffer): string {
  const { paths, clock } = options;
  return underLock(options, () => {
    switch (offer.kind) {
      case "restore": {
        stageCopy(paths, offer.fileName);
        const aside = asideName(paths.databaseFile, "damaged", clock.now());
        const { fileName, madeAt } = offer;
        const restored: Restored = { fileName, madeAt, by: null, reason: DID_NOT_OPEN };
        carryOut(paths, { way: "copy", aside, restored });
        forgetMark(paths);
        return `The backup ${fileName} is in use now.${keptAs(join(paths.dataFolder, aside))}`;
      }
      case "put-back": {
        const aside = putAside(paths.databaseFile, clock.now());
        carryOut(paths, { way: "back", aside: offer.fileName, restored: null });
        forgetMark(paths);
        forgetSwap(paths);
        return `The bench that was kept as ${offer.fileName} is in use again.${keptAs(aside)}`;
      }
      case "set-wal-aside":
        return `The bench is opened without it. It is kept as ${setWalAside(paths, clock.now())}.`;
      case "start-empty": {
        const aside = putAside(paths.databaseFile, clock.now());
        forgetMark(paths);
        forgetBench(paths);
        return `An empty bench begins.${keptAs(aside)}`;
      }
    }
  });
}

function keptAs(aside: string | null): string {
  return aside === null || !existsSync(aside) ? "" : ` The file that did not open is kept as ${aside}.`;
}
