import type { PracticeCriteria, PracticeFigure, PracticeResult } from "../../contract/records/practice.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { decimalOfText, textOfDecimal } from "../../quantity/decimal-text.ts";
import { chiSquaredQuantile, studentQuantile } from "../../statistics/distributions.ts";
import { deviationInterval, studentInterval } from "../../statistics/interval.ts";
import { mean, median, standardDeviation } from "../../statistics/sample.ts";
import { figure } from "./figure.ts";
import type { TurretObjective } from "./measured-specimen.ts";
import { shareFigure } from "./share-score.ts";

const LEVEL = 0.95;
const RISK = 0.025;
/** Fewer sizes with an objective than this say nothing about it. */
const LEAST_ROWS = 3;
/** An edge can be told from the one that counts where it lies a division or more away. */
const TOLD_APART = 1;

/** A row of the exercise: what was read, and what is true. */
export interface JudgedRow {
  readonly objective: TurretObjective["name"];
  /** The objective in the path was another one than entered. */
  readonly slip: boolean;
  /** µm of a division of the objective entered. */
  readonly factorUm: Decimal;
  readonly divisions: Decimal;
  readonly trueUm: Decimal;
  readonly otherEdgesUm: readonly Decimal[];
  readonly seconds: Decimal;
}

type Limit = Decimal | null;

/** Mean and standard deviation with their intervals; exceeded where the values show it, each at a risk of 2.5 %. */
function meanAndScatter(
  names: readonly [PracticeFigure["name"], PracticeFigure["name"]],
  values: readonly Decimal[],
  [mostMean, mostScatter]: readonly [Limit, Limit],
): PracticeFigure[] {
  const n = values.length;
  const centre = mean(values);
  const scatter = standardDeviation(values);
  const standardError = scatter.div(decimal(n).sqrt());
  const off =
    mostMean &&
    centre.abs().greaterThan(mostMean.plus(standardError.times(studentQuantile(1 - RISK, n - 1))));
  const reach = decimal(chiSquaredQuantile(1 - RISK, n - 1)).div(n - 1);
  const wide = mostScatter && scatter.greaterThan(mostScatter.times(reach.sqrt()));
  return [
    figure(names[0], centre, studentInterval(centre, standardError, n - 1, LEVEL), mostMean, off),
    figure(
      names[1],
      scatter,
      scatter.isZero() ? null : deviationInterval(scatter, n, LEVEL),
      mostScatter,
      wide,
    ),
  ];
}

/** Whether a size lies nearer to another edge than to the one that counts; null where no other edge can be told. */
function atOtherEdge({ factorUm, divisions, trueUm, otherEdgesUm }: JudgedRow): boolean | null {
  const apart = otherEdgesUm.filter((other) =>
    other.minus(trueUm).abs().div(factorUm).greaterThanOrEqualTo(TOLD_APART),
  );
  if (apart.length === 0) return null;
  const size = divisions.times(factorUm);
  const away = (edge: Decimal): Decimal => size.minus(edge).abs();
  return apart.some((other) => away(other).lessThan(away(trueUm)));
}

/**
 * Scores sizes against the drawn ones. Rows with a wrong objective are counted, with exact limits, and left out of the
 * rest: mean and standard deviation of the errors in per cent (JCGM 100:2008 4.2.2; Student and χ² intervals), and in
 * divisions for each objective used at least three times. A criterion counts as exceeded where the rows show it, so
 * that somebody exactly at one of the three fails it at most 2.5 % of the time.
 */
export function scoreSizes(rows: readonly JudgedRow[], criteria: PracticeCriteria): PracticeResult {
  const read = rows.filter(({ slip }) => !slip);
  const errors = read.map(({ divisions, factorUm, trueUm }) =>
    divisions.times(factorUm).div(trueUm).minus(1).times(100),
  );
  const limit = (name: "mostSizeError" | "mostSizeScatter" | "mostSlips"): Decimal =>
    decimalOfText(name, criteria[name]);
  const sizes =
    read.length < LEAST_ROWS
      ? []
      : meanAndScatter(["size", "sizes"], errors, [limit("mostSizeError"), limit("mostSizeScatter")]);
  const byObjective = (["10", "20", "40"] as const).flatMap((name) => {
    const own = read.filter(({ objective }) => objective === name);
    const inDivisions = own.map(({ divisions, factorUm, trueUm }) => divisions.minus(trueUm.div(factorUm)));
    return own.length < LEAST_ROWS
      ? []
      : meanAndScatter([`bias-${name}`, `scatter-${name}`], inDivisions, [null, null]);
  });
  const edges = read.map(atOtherEdge).filter((one) => one !== null);
  const figures = [
    ...sizes,
    shareFigure(
      "slips",
      rows.map(({ slip }) => slip),
      { most: limit("mostSlips") },
    ),
    ...(edges.length === 0 ? [] : [shareFigure("other-edge", edges, null)]),
    ...byObjective,
    figure("seconds", median(rows.map(({ seconds }) => seconds))),
  ];
  return {
    verdict: figures.some(({ exceeded }) => exceeded) ? "not met" : "met",
    figures,
    digits: null,
    readings: read.map(({ trueUm }, index) => ({
      truth: textOfDecimal(trueUm),
      error: textOfDecimal(errors[index] ?? decimal(0)),
    })),
  };
}
