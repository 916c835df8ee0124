import {
  type FactorSimulation,
  type FactorUnderTrial,
  factorTrials,
} from "#core/calibration/factor-simulation.ts";

export interface TrialsOrder {
  readonly factor: FactorUnderTrial;
  readonly trials: number;
}

/** What the worker says: trials done, at last what came of them. */
export type TrialsMessage = { readonly done: number } | { readonly simulation: FactorSimulation };

// Runs beside the window, which stops it by ending the worker.
addEventListener("message", ({ data }: MessageEvent<TrialsOrder>) => {
  const trials = factorTrials(data.factor, data.trials);
  const say = (message: TrialsMessage): void => postMessage(message);
  for (;;) {
    const step = trials.next();
    if (step.done) return say({ simulation: step.value });
    say({ done: step.value });
  }
});
