import {
  type AdvisedMicrometer,
  adviseMicrometers,
  compareAdvice,
  type MicrometerAdvice,
  RANK_REASONS,
  type RankReason,
} from "../../calibration/micrometer-adviser.ts";
import { decimal } from "../../quantity/decimal.ts";
import { memberAt } from "../../statistics/sample.ts";
import { type Even, evenChance } from "../../uncertainty/chance-generator.ts";
import { FREE_OBJECTIVES } from "../free-view.ts";

/** The day of every task: certificates are in date or not on it. */
export const CHOOSING_DAY = "2026-06-15";
const RETICLE_DIVISIONS = 100;
const SLIDES = 4;
const MOST_DRAWS = 2000;

/** Rulings of invented slides: µm in parts. */
const RULINGS = [
  [100, 50],
  [200, 100],
  [500, 50],
  [1000, 100],
  [2000, 200],
  [5000, 100],
  [10_000, 100],
] as const;
const UNCERTAINTIES_UM = ["0.2", "0.4", "0.8", "1.6"] as const;
const DUE_DAYS = ["2025-11-30", "2027-02-28", "2027-08-31", "2028-01-31"] as const;

/** A task: the train and the slides there are, with what the adviser makes of them. */
export interface MicrometerChoice {
  readonly objective: (typeof FREE_OBJECTIVES)[number];
  readonly slides: readonly AdvisedMicrometer[];
  /** Best first. */
  readonly ranked: readonly MicrometerAdvice[];
  /** What puts the best before the next best. */
  readonly reason: RankReason;
}

function slideOf(place: number, chance: Even): AdvisedMicrometer {
  const some = <T>(values: readonly T[]): T => memberAt(values, Math.floor(chance() * values.length));
  const [scaleLengthUm, divisions] = some(RULINGS);
  const certified = chance() > 0.15;
  const [uncertainty, due] = [some(UNCERTAINTIES_UM), some(DUE_DAYS)];
  return {
    id: String(place),
    name: `Slide ${place}`,
    scaleLengthUm: decimal(scaleLengthUm),
    divisions,
    expandedUncertainty: certified ? decimal(uncertainty) : null,
    certificateDueOn: certified ? due : null,
  };
}

/** Whether the best stands before the next best by more than one can doubt. */
function isClear(best: MicrometerAdvice, next: MicrometerAdvice, reason: RankReason): boolean {
  if (!best.usable) return false;
  if (reason === "span") return best.spanDivisions.minus(next.spanDivisions).greaterThan(15);
  if (reason === "lines") return best.steps >= 2 * next.steps;
  if (reason !== "uncertainty" || !best.relativeUncertainty || !next.relativeUncertainty) return true;
  return next.relativeUncertainty.div(best.relativeUncertainty).greaterThan("1.5");
}

/** Tasks of the seed asked for last: drawing one takes about a millisecond, and a score asks for all of them. */
let kept: { readonly seed: number; readonly tasks: Map<number, MicrometerChoice> } | null = null;

/** A task of a run: always the same for its seed and ordinal. */
export function micrometerChoice(seed: number, ordinal: number): MicrometerChoice {
  if (kept?.seed !== seed) kept = { seed, tasks: new Map() };
  const task = kept.tasks.get(ordinal) ?? drawnChoice(seed, ordinal);
  kept.tasks.set(ordinal, task);
  return task;
}

/** Each reason is asked for as often; slides are drawn anew until the best one stands clearly first by it. */
function drawnChoice(seed: number, ordinal: number): MicrometerChoice {
  const chance = evenChance(seed + ordinal * 4409);
  const wanted = memberAt(RANK_REASONS, Math.floor(chance() * RANK_REASONS.length));
  for (let draw = 0; draw < MOST_DRAWS; draw += 1) {
    const objective = memberAt(FREE_OBJECTIVES, Math.floor(chance() * FREE_OBJECTIVES.length));
    const slides = Array.from({ length: SLIDES }, (_, index) => slideOf(index + 1, chance));
    const factor = decimal(RETICLE_DIVISIONS).div(objective.objective);
    const ranked = adviseMicrometers(slides, factor, RETICLE_DIVISIONS, CHOOSING_DAY);
    const [best, next] = [memberAt(ranked, 0), memberAt(ranked, 1)];
    const { reason } = compareAdvice(best, next, RETICLE_DIVISIONS);
    if (reason === wanted && isClear(best, next, reason)) return { objective, slides, ranked, reason };
  }
  throw new RangeError(`no task of seed ${seed} decides by ${wanted}`);
}
