import type { PracticeCriteria, PracticeResult } from "../../contract/records/practice.ts";
import { type Decimal, decimal, sumOf } from "../../quantity/decimal.ts";
import { decimalOfText, textOfDecimal } from "../../quantity/decimal-text.ts";
import { studentQuantile } from "../../statistics/distributions.ts";
import { intervalAround } from "../../statistics/interval.ts";
import { median } from "../../statistics/sample.ts";
import { figure } from "./figure.ts";
import type { FieldOutcome } from "./press-matching.ts";
import { shareFigure } from "./share-score.ts";

const RISK = 0.025;

export interface JudgedField {
  readonly outcome: FieldOutcome;
  readonly seconds: Decimal;
}

/**
 * Recovery Σpressed/Σtrue over the fields, in per cent, with the standard error of a ratio of two sums,
 * √(Σ(y − R·x)²/(n − 1)/n)/x̄ (W. G. Cochran: Sampling Techniques (1977), 6.4: from memory), and Student's t at n − 1.
 */
function recoveryOf(fields: readonly FieldOutcome[]): { readonly value: Decimal; readonly reach: Decimal } {
  const n = fields.length;
  const truth = sumOf(fields.map((field) => decimal(field.truth)));
  const ratio = sumOf(fields.map(({ pressed }) => decimal(pressed))).div(truth);
  const squares = sumOf(fields.map((field) => decimal(field.pressed).minus(ratio.times(field.truth)).pow(2)));
  const error = squares
    .div(n - 1)
    .div(n)
    .sqrt()
    .div(truth.div(n));
  return { value: ratio.times(100), reach: error.times(studentQuantile(1 - RISK, n - 1)).times(100) };
}

/**
 * Scores counted fields: recovery with its interval, exceeded where the fields show it (|R − 100| > limit + t·SE, so
 * that somebody exactly at it fails at most about 2.5 % of the time), and as shares with exact limits what was missed,
 * counted twice, counted against the edge rule, counted of the dirt, and taken for the other kind.
 */
export function scoreCounts(fields: readonly JudgedField[], criteria: PracticeCriteria): PracticeResult {
  const outcomes = fields.map(({ outcome }) => outcome);
  const { value, reach } = recoveryOf(outcomes);
  const most = decimalOfText("mostCountError", criteria.mostCountError);
  const off = value.minus(100).abs().greaterThan(most.plus(reach));
  const named = outcomes.flatMap((outcome) => outcome.named);
  const takenFor = (name: "first-as-second" | "second-as-first", is: "1" | "2") => {
    const own = named.filter(([kind]) => kind === is);
    return own.length === 0
      ? []
      : [
          shareFigure(
            name,
            own.map(([, pressed]) => pressed !== is),
            null,
          ),
        ];
  };
  const share = (name: "missed" | "twice" | "edges" | "dirt", values: readonly boolean[]) =>
    values.length === 0 ? [] : [shareFigure(name, values, null)];
  return {
    verdict: off ? "not met" : "met",
    figures: [
      figure("recovery", value, intervalAround(value, reach), most, off),
      ...share(
        "missed",
        outcomes.flatMap(({ found }) => found.map((one) => !one)),
      ),
      ...share(
        "twice",
        outcomes.flatMap(({ twice }) => twice),
      ),
      ...share(
        "edges",
        outcomes.flatMap(({ edges }) => edges.map((one) => !one)),
      ),
      ...share(
        "dirt",
        outcomes.flatMap(({ dirt }) => dirt),
      ),
      ...takenFor("first-as-second", "1"),
      ...takenFor("second-as-first", "2"),
      figure("seconds", median(fields.map(({ seconds }) => seconds))),
    ],
    digits: null,
    readings: outcomes.map(({ truth, pressed }) => ({
      truth: textOfDecimal(decimal(truth)),
      error: textOfDecimal(decimal(pressed).minus(truth)),
    })),
  };
}
