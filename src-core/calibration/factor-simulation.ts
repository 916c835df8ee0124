import type { FactorRecord } from "../contract/records/calibration.ts";
import { InputError } from "../quantity/input-error.ts";
import {
  type Draw,
  inexactRectangularDraw,
  normalDraw,
  rectangularDraw,
  studentDraw,
} from "../uncertainty/input-draw.ts";
import {
  type GumResult,
  type IntervalValidation,
  validateInterval,
} from "../uncertainty/interval-validation.ts";
import { type DrawnModel, type Simulated, simulate } from "../uncertainty/monte-carlo.ts";
import type { BudgetComponent } from "../uncertainty/uncertainty.ts";
import type { CoverageRule } from "../vocabulary/calibration.ts";

/** A line of a factor's budget as plain numbers; crosses to a worker. */
export interface SimulatedLine {
  readonly key: string;
  readonly distribution: BudgetComponent["distribution"];
  readonly standardUncertainty: number;
  readonly sensitivity: number;
  /** null: infinite. */
  readonly degreesOfFreedom: number | null;
}

/** A factor with its budget, µm/div, as far as the simulation needs it. */
export interface FactorUnderTrial {
  readonly gum: GumResult;
  readonly coverage: CoverageRule;
  /** It is the exact factor behind a working factor that is in force. */
  readonly ofExact: boolean;
  readonly lines: readonly SimulatedLine[];
}

/** Fixed, so that the same budget gives the same figures on every machine and every day. */
export const FACTOR_TRIALS = { trials: 1_000_000, seed: 101 } as const;

/** Trials for a second run where the first cannot tell. */
export const MORE_TRIALS = 10_000_000;

/** What the trials say of a factor. */
export interface FactorSimulation {
  readonly simulated: Simulated;
  readonly validation: IntervalValidation;
}

/**
 * A factor as its record keeps it, in plain numbers. Of a working factor the exact one: its rounding is a known difference,
 * with no distribution to draw from.
 */
export function factorUnderTrial(record: FactorRecord, coverage: CoverageRule): FactorUnderTrial {
  const exact = record.working ?? record;
  return {
    gum: {
      estimate: Number(exact.factor),
      standard: Number(exact.standardUncertainty),
      expanded: Number(exact.expandedUncertainty),
    },
    coverage,
    ofExact: record.working !== undefined,
    lines: record.budget.flatMap(
      ({ key, distribution, standardUncertainty, sensitivity, degreesOfFreedom }) =>
        distribution === "known difference"
          ? []
          : [
              {
                key,
                distribution,
                standardUncertainty: Number(standardUncertainty),
                sensitivity: Number(sensitivity),
                degreesOfFreedom: degreesOfFreedom === null ? null : Number(degreesOfFreedom),
              },
            ],
    ),
  };
}

/** 95 %; with k = 2 the 95.45 % that k = 2 has for a normal distribution, JCGM 100:2008 Table G.1. */
export function coverageProbability(coverage: CoverageRule): number {
  return coverage === "k2" ? 0.9545 : 0.95;
}

/** How a line enters the model. */
type Role = "length" | "reading" | "scale" | "expansion" | "temperature" | "alignment";
const ROLES: Readonly<Record<string, Role>> = {
  certificate: "length",
  interpolation: "length",
  drift: "length",
  expansion: "expansion",
  temperature: "temperature",
  alignment: "alignment",
  field: "scale",
  train: "scale",
  repeatability: "reading",
  "reading-left": "reading",
  "reading-right": "reading",
};

/** u of κ = θ²/2 back to the half-width of θ, radians: u = a²/√45 (`cosineTerm`). */
const halfAngleOf = (standard: number): number => Math.sqrt(standard * Math.sqrt(45));

/**
 * What is drawn for a line, as JCGM 101:2008 6.4 assigns it: t where the scatter or the certificate has ν (6.4.9); a
 * rectangle whose limits are doubted (6.4.3) where a rectangular line has ν, its half-width ± the relative doubt 1/√(2ν)
 * of JCGM 100:2008 G.4.2; the angle, not κ, of the skewed line.
 */
function drawOf({ key, distribution, standardUncertainty: u, degreesOfFreedom: nu }: SimulatedLine): Draw {
  if (ROLES[key] === "alignment") return rectangularDraw(halfAngleOf(u));
  if (distribution !== "rectangular") return nu === null ? normalDraw(u) : studentDraw(u, nu);
  const halfWidth = u * Math.sqrt(3);
  return nu === null
    ? rectangularDraw(halfWidth)
    : inexactRectangularDraw(halfWidth, halfWidth / Math.sqrt(2 * nu));
}

/**
 * The model of `factorBudget`, not linearised:
 * f = (L + e)·[1 + (α + Δα)(t + Δt − t₀)]·(1 + θ²/2)·(1 + ε_d)·(1 + ε_t)/(D₀ + q_L + q_R + r). The settings enter as in the
 * budget, by the one length L and reticle interval D₀ they together stand for; e are the errors of certificate, lines
 * between certified ones and drift, r the scatter of the settings, θ the angle between the scales.
 * @param factor y, µm/div
 * @throws InputError `budget` for a line that is not of this model
 */
export function factorModel(factor: number, budget: readonly SimulatedLine[]): DrawnModel {
  const lines = budget
    .filter((line) => line.standardUncertainty > 0)
    .map((line) => {
      const role = ROLES[line.key];
      if (!role) throw new InputError("budget", `has a line “${line.key}” that the simulation does not know`);
      return { role, relative: line.sensitivity / factor, line };
    });
  const relativeOf = (key: string): number =>
    (budget.find((line) => line.key === key)?.sensitivity ?? 0) / factor;
  // 1 + α(t − t₀), from ∂f/∂α = f(t − t₀)/growth and ∂f/∂t = fα/growth.
  const growth = 2 / (1 + Math.sqrt(1 - 4 * relativeOf("expansion") * relativeOf("temperature")));
  const skewed = budget.find((line) => line.key === "alignment")?.standardUncertainty ?? 0;
  const straight = factor / (1 + halfAngleOf(skewed) ** 2 / 6);
  const placesOf = (role: Role): number[] => lines.flatMap((one, i) => (one.role === role ? [i] : []));
  const sumOf = (role: Role): ((drawn: Float64Array) => number) => {
    const parts = placesOf(role).map((i) => ({ i, relative: lines[i]?.relative ?? 0 }));
    return (drawn) => parts.reduce((sum, { i, relative }) => sum + relative * (drawn[i] ?? 0), 0);
  };
  const [byLength, byReading] = [sumOf("length"), sumOf("reading")];
  const [byAlpha, byKelvin] = [sumOf("expansion"), sumOf("temperature")];
  const [scales, angles] = [placesOf("scale"), placesOf("alignment")];
  const [[alpha = -1], [kelvin = -1]] = [placesOf("expansion"), placesOf("temperature")];
  const together = (drawn: Float64Array): number => ((drawn[alpha] ?? 0) * (drawn[kelvin] ?? 0)) / growth;
  return {
    draws: lines.map(({ line }) => drawOf(line)),
    hasDeviation: lines.every(
      ({ line: { distribution, degreesOfFreedom: nu } }) =>
        distribution === "rectangular" || nu === null || nu > 2,
    ),
    result: (drawn) => {
      let scale = straight;
      for (const i of scales) scale *= 1 + (drawn[i] ?? 0);
      for (const i of angles) scale *= 1 + (drawn[i] ?? 0) ** 2 / 2;
      const warmth = 1 + byAlpha(drawn) + byKelvin(drawn) + together(drawn);
      return (scale * warmth * (1 + byLength(drawn))) / (1 - byReading(drawn));
    },
  };
}

/** The trials of a factor, slice by slice: gives how many are done, at last what they say of its budget. */
export function* factorTrials(
  { gum, coverage, lines }: Omit<FactorUnderTrial, "ofExact">,
  trials: number = FACTOR_TRIALS.trials,
  seed: number = FACTOR_TRIALS.seed,
): Generator<number, FactorSimulation, void> {
  const plan = { trials, seed, probability: coverageProbability(coverage) };
  const simulated = yield* simulate(factorModel(gum.estimate, lines), plan);
  return { simulated, validation: validateInterval(gum, simulated) };
}
