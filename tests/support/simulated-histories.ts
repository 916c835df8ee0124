import { decimal } from "#core/quantity/decimal.ts";
import { assessHistory } from "#core/trends/assess-history.ts";
import type { HistoryFactor } from "#core/trends/history-factor.ts";
import { referenceChanges } from "#core/trends/reference-change.ts";
import { type NamedEvent, trendVerdict } from "#core/trends/trend-verdict.ts";
import type { Normal } from "./seeded-normal.ts";

/*
 * Histories with a known truth, all inputs invented: a factor of 2.5 µm/div calibrated each month, scatter 0.05 % from
 * one occasion to the next, as its budgets say, a certificate part of 0.05 %, tolerance 2 %.
 */
export const FACTOR = 2.5;
export const SCATTER = 0.0005;
const CERTIFICATE = 0.0005;
export const MONTH = 30.4375;
export const FIRST_DAY = 20_000;
const TOLERANCE = decimal("0.02");

export interface Truth {
  readonly name: string;
  /** Relative to the steady factor, by month from 0. */
  readonly at: (month: number) => number;
  /** Month from which another micrometer is used. */
  readonly replacedAt?: number;
  /** Scatter from one occasion to the next where it is not what the budgets say, relative. */
  readonly scatter?: number;
}

export function simulatedHistory(truth: Truth, months: number, normal: Normal): HistoryFactor[] {
  const scatter = truth.scatter ?? SCATTER;
  return Array.from({ length: months }, (_, month) => ({
    day: decimal(Math.round(FIRST_DAY + month * MONTH)),
    value: decimal(FACTOR * (truth.at(month) + scatter * normal())),
    standardUncertainty: decimal(FACTOR * Math.hypot(SCATTER, CERTIFICATE)),
    expandedUncertainty: decimal(2 * FACTOR * Math.hypot(SCATTER, CERTIFICATE)),
    commonUncertainty: decimal(FACTOR * CERTIFICATE),
    occasionUncertainty: decimal(FACTOR * SCATTER),
    reference: month >= (truth.replacedAt ?? Number.POSITIVE_INFINITY) ? "SM 2" : "SM 1",
    withdrawn: false,
  }));
}

export function verdictOf(points: readonly HistoryFactor[]) {
  const events = referenceChanges(points).map(
    ({ day }): NamedEvent => ({ day, breaks: true, words: "a change of stage micrometer" }),
  );
  const found = assessHistory<NamedEvent>({ points, events, tolerance: TOLERANCE });
  const today = (points.at(-1)?.day.toNumber() ?? FIRST_DAY) + 1;
  const verdict = trendVerdict({ history: found, points, tolerance: TOLERANCE, dueDay: null, today });
  return { found, kind: verdict.kind };
}
