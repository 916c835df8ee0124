import {
  type DrawnModel,
  type Simulated,
  type SimulationPlan,
  simulate,
} from "#core/uncertainty/monte-carlo.ts";

/** The end of work done in slices. */
export function endOf<T>(work: Generator<number, T, void>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/** A simulation without anybody waiting in between. */
export function simulatedAtOnce(model: DrawnModel, plan: SimulationPlan): Simulated {
  return endOf(simulate(model, plan));
}
