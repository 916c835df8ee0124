import { setImmediate } from "node:timers/promises";
import { changedBy } from "#core/contract/calls.ts";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import { failureInWords } from "../../store/bench-file/failure-words.ts";
import { immediate } from "../../store/connection.ts";
import {
  findReevaluation,
  runningReevaluation,
  setReevaluationState,
} from "../../store/repositories/reevaluation-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { reevaluateSlice, SizeConverter, type SliceWork } from "./reevaluation-slice.ts";
import { windowOf } from "./trace-scope.ts";

/** A slice blocks the keypad for about this long at most; its size follows. */
const SLICE_MS = 20;
const FIRST_SLICE = 250;
const LEAST_SLICE = 50;
const LARGEST_SLICE = 5000;

const CHANGED = changedBy("reevaluations.resume");

export interface ReevaluationRunner {
  /** Begins or goes on; the work is done in slices between other calls. */
  start(reevaluation: Reevaluation, personId: string): void;
  isRunning(id: string): boolean;
  /** Stops after the slice under way; so does closing the bench, and the rest waits to be resumed. */
  stop(id: string): Promise<void>;
}

interface Run {
  readonly id: string;
  stopping: boolean;
  done: Promise<void>;
}

/** The next number of results, so that a slice takes about as long as it may. */
function nextLimit(limit: number, took: number): number {
  const wanted = Math.round(limit * Math.min(2, Math.max(0.5, SLICE_MS / Math.max(took, 0.1))));
  return Math.min(LARGEST_SLICE, Math.max(LEAST_SLICE, wanted));
}

/** Marks what ran when the program ended, so that a person can resume it. @returns what to tell them */
export function interruptedReevaluation(deps: Pick<Deps, "db">): string | null {
  const id = runningReevaluation(deps.db);
  if (id === null) return null;
  immediate(deps.db, (db) =>
    setReevaluationState(db, id, "stopped", { trouble: "The program ended before it was finished." }),
  );
  return "A re-evaluation was interrupted when the program ended. Resume it under Records: what is done stays done.";
}

/** Carries out re-evaluations, one at a time. */
export function createReevaluationRunner(
  deps: Pick<Deps, "db" | "clock" | "background" | "fault" | "changes">,
): ReevaluationRunner {
  let current: Run | null = null;

  function stopped(id: string, trouble: string | null): void {
    immediate(deps.db, (db) => setReevaluationState(db, id, "stopped", { trouble }));
    deps.changes.note(CHANGED);
  }

  async function slices(run: Run, personId: string, closing: AbortSignal): Promise<void> {
    const reevaluation = findReevaluation(deps.db, run.id);
    if (!reevaluation) throw new Error(`re-evaluation ${run.id} is missing`);
    const sizes = new SizeConverter(deps.db);
    const window = windowOf(deps.db, reevaluation);
    const reported = new Set<string>();
    for (let limit = FIRST_SLICE; ; ) {
      // The call that began it is answered first, and others come in between.
      await setImmediate();
      if (run.stopping || closing.aborted) return stopped(run.id, null);
      const began = performance.now();
      const work: SliceWork = { reevaluation, sizes, window, at: deps.clock.now(), personId, reported };
      const isDone = immediate(deps.db, (db) => reevaluateSlice(db, work, limit));
      deps.changes.note(CHANGED);
      if (isDone) return;
      limit = nextLimit(limit, performance.now() - began);
    }
  }

  function troubleInWords(error: unknown): string {
    const known = failureInWords(error);
    return known?.message ?? `It stopped at a fault of the program (${deps.fault("re-evaluation", error)}).`;
  }

  async function carryOut(run: Run, personId: string, closing: AbortSignal): Promise<void> {
    try {
      await slices(run, personId, closing);
    } catch (error) {
      try {
        stopped(run.id, troubleInWords(error));
      } catch {
        // Not even that can be written: the next start finds it interrupted.
      }
    } finally {
      current = null;
    }
  }

  return {
    start({ id }, personId) {
      const run: Run = { id, stopping: false, done: Promise.resolve() };
      current = run;
      deps.background((closing) => {
        run.done = carryOut(run, personId, closing);
        return run.done;
      });
    },
    isRunning: (id) => current?.id === id,
    async stop(id) {
      if (current?.id !== id) return;
      current.stopping = true;
      await current.done;
    },
  };
}
