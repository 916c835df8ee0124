import type { PracticeCriteria, PracticeFigure, PracticeResult } from "../../contract/records/practice.ts";
import { proportionInterval } from "../../counting/intervals/proportion-interval.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { decimalOfText } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { studentInterval } from "../../statistics/interval.ts";
import { mean, median, standardDeviation } from "../../statistics/sample.ts";
import type { Choice } from "./exercise.ts";
import { figure } from "./figure.ts";

const LEVEL = 0.95;

/** An answer that is right or wrong. */
export interface JudgedAnswer {
  readonly right: boolean;
  readonly seconds: Decimal;
}

/**
 * Per cent of answers of which something is true, with the exact limits of C. J. Clopper, E. S. Pearson: The use of confidence or
 * fiducial limits (1934), Biometrika 26, 404 (from memory). A criterion counts as missed where the answers show it: the
 * interval lies wholly beyond it, so that somebody exactly at it fails at most 2.5 % of the time.
 */
export function shareFigure(
  name: PracticeFigure["name"],
  answers: readonly boolean[],
  criterion: { readonly least: Decimal } | { readonly most: Decimal } | null,
): PracticeFigure {
  const hits = answers.filter((one) => one).length;
  const limits = proportionInterval(hits, answers.length, "clopper-pearson", LEVEL);
  const perCent = (part: number): Decimal => decimal(part).times(100);
  const [lower, upper] = [perCent(limits.lower), perCent(limits.upper)];
  const value = perCent(hits).div(answers.length);
  if (criterion === null) return figure(name, value, { lower, upper });
  return "least" in criterion
    ? figure(name, value, { lower, upper }, criterion.least, upper.lessThan(criterion.least))
    : figure(name, value, { lower, upper }, criterion.most, lower.greaterThan(criterion.most));
}

/** Mean number of looks taken for an answer, with Student's interval where they differ. */
export function looksFigure(looks: readonly Decimal[]): PracticeFigure {
  const standardError = standardDeviation(looks).div(decimal(looks.length).sqrt());
  const centre = mean(looks);
  return figure(
    "looks",
    centre,
    standardError.isZero() ? null : studentInterval(centre, standardError, looks.length - 1, LEVEL),
  );
}

/** The result of answers that are right or wrong. @param more figures between the share of right ones and the time */
export function scoreRights(
  answers: readonly JudgedAnswer[],
  more: readonly PracticeFigure[],
  criteria: PracticeCriteria,
): PracticeResult {
  const right = shareFigure(
    "right",
    answers.map((answer) => answer.right),
    { least: decimalOfText("leastRight", criteria.leastRight) },
  );
  return {
    verdict: right.exceeded ? "not met" : "met",
    figures: [right, ...more, figure("seconds", median(answers.map(({ seconds }) => seconds)))],
    digits: null,
    readings: [],
  };
}

/** @throws InputError at the field when the value is none of those there are to choose from */
export function requireChoice(field: string, value: string | undefined, choices: readonly Choice[]): void {
  if (choices.some((choice) => choice.value === value)) return;
  throw new InputError(`typed.${field}`, `must be one of the ${choices.length} that are offered`);
}
