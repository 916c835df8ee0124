import { checkResultOf } from "#core/calibration/check-result.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { normalChance } from "../support/normal-chance.ts";
import {
  learntDeviation,
  type Place,
  simulateCalibration,
  TRUE_FACTOR,
} from "../support/simulated-calibration.ts";
import { printTable } from "./print-table.ts";

const TRIALS = Number(process.env.TRIALS ?? 1000);

/** What a person's earlier settings told: ten degrees of freedom of scatter, or nothing yet. */
export type Learnt = "own habit" | "nothing yet";

export interface CoveragePlan {
  readonly settings: number;
  /** div */
  readonly span: number;
  readonly sd: number;
  readonly learnt: Learnt;
}

export const COVERAGE_PLANS: readonly CoveragePlan[] = [1, 2, 3, 4, 5, 10].flatMap((settings) =>
  [40, 80, 100].flatMap((span) =>
    [0.05, 0.2].flatMap((sd) =>
      (settings < 5 ? (["own habit", "nothing yet"] as const) : (["own habit"] as const)).map((learnt) => ({
        settings,
        span,
        sd,
        learnt,
      })),
    ),
  ),
);

export interface Coverage {
  /** Share of trials in which the true factor lies within U. */
  readonly covered: number;
  /** Share of all rectangular lines together: where they dominate, U by Student's t is wider than it must be. */
  readonly rectangular: number;
  /** Lines of the budget that carry most of u_c², in the mean over the trials, largest first. */
  readonly largest: readonly {
    readonly name: string;
    readonly distribution: string;
    readonly share: number;
  }[];
}

const POOLED_DEGREES = 10;

function trialOf(plan: CoveragePlan, chance: ReturnType<typeof normalChance>) {
  const places: Place[] = Array.from({ length: plan.settings }, () => ({ from: 0, span: plan.span - 1 }));
  const pooled =
    plan.learnt === "own habit"
      ? { deviation: learntDeviation(plan.sd, POOLED_DEGREES, chance), degrees: POOLED_DEGREES }
      : undefined;
  return simulateCalibration(places, plan.sd, chance, pooled ? { pooled } : {});
}

/** How often the stated U of 95 % covers, from whole simulated calibrations. */
export function coverageOf(plan: CoveragePlan, trials: number, seed = 1): Coverage {
  const chance = normalChance(seed);
  const shares = new Map<string, { readonly distribution: string; share: number }>();
  let covered = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const { result } = trialOf(plan, chance);
    if (result.factor.minus(TRUE_FACTOR).abs().lessThanOrEqualTo(result.uncertainty.expanded)) covered += 1;
    for (const { key, distribution, share } of result.budget) {
      const known = shares.get(key) ?? { distribution, share: 0 };
      known.share += share.toNumber() / trials;
      shares.set(key, known);
    }
  }
  const largest = [...shares].map(([name, { distribution, share }]) => ({ name, distribution, share }));
  const rectangular = largest
    .filter((one) => one.distribution === "rectangular")
    .reduce((sum, one) => sum + one.share, 0);
  return {
    covered: covered / trials,
    rectangular,
    largest: largest.sort((a, b) => b.share - a.share).slice(0, 2),
  };
}

/** How often a quick check of one setting fails a factor that nothing has happened to. */
export function falseFailures(plan: CoveragePlan, trials: number, seed = 2): number {
  const chance = normalChance(seed);
  let failed = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const inForce = trialOf(plan, chance).result;
    const check = trialOf({ ...plan, settings: 1 }, chance).result;
    // Both draw certificate and field anew, so the whole of both uncertainties is compared.
    if (!checkResultOf(factorRecordOf(inForce), factorRecordOf(check), false).passed) failed += 1;
  }
  return failed / trials;
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/** Coverage of U, and false failures of quick checks, for every plan of settings. */
export function benchCoverage(): void {
  console.log(
    `${TRIALS.toLocaleString("en-GB")} simulated calibrations each; how many have the true factor within U at 95 %, and how many quick checks of one setting fail though nothing has changed`,
  );
  const rows = COVERAGE_PLANS.map((plan) => {
    const { covered, rectangular, largest } = coverageOf(plan, TRIALS);
    const [first, second] = largest;
    const named = [first, second].map((one) =>
      one ? `${one.name} (${one.distribution}) ${percent(one.share)}` : "",
    );
    return [
      `${plan.settings} × ${plan.span} div`,
      String(plan.sd),
      plan.learnt,
      percent(covered),
      percent(falseFailures(plan, TRIALS)),
      percent(rectangular),
      named.join(", "),
    ];
  });
  printTable(
    [
      "plan",
      "sd, div",
      "repeatability from",
      "covered",
      "checks failed",
      "rectangular",
      "largest parts of u²",
    ],
    rows,
  );
}
