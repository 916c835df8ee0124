import type { SizeClasses } from "../../contract/records/method.ts";
import { AMOUNT_KEYS, type TestedAmount } from "../../contract/records/tested-amount.ts";
import type { ClassTally, SizeClass } from "../../measurement/size-classes.ts";
import { countedNoun } from "../../quantity/counted-noun.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import type { DecisionRule } from "../../vocabulary/decision-rules.ts";
import type { AmountBasis } from "../../vocabulary/size-classes.ts";
import { garwoodInterval, zeroCountUpperLimit } from "../intervals/poisson-interval.ts";

/** A rule as it is printed beside a decision on a number. */
export const NUMBER_RULE_WORDS: Readonly<Record<DecisionRule, string>> = {
  "simple-acceptance": "simple acceptance (JCGM 106:2012 8.2): the number itself is at most the limit",
  "guarded-acceptance":
    "guarded acceptance (JCGM 106:2012 8.3): the upper end of its exact 95 % interval is at most the limit",
};

/** Numbers are held against limits to so many places after the point: 21 in a tenth of 0.7 mL are 300 per mL, no more. */
export const NUMBER_PLACES = 9;

/** What a limit of a number is per, in words after a slash. */
export const BASIS_WORDS: Readonly<Record<AmountBasis, string>> = {
  sheet: "on the sheet",
  container: "/container",
  mL: "/mL",
};

/** The number of a class per container, mL or sheet. */
export interface ClassNumber {
  readonly value: number;
  /** Exact 95 % limits, Poisson. */
  readonly lower: number;
  readonly upper: number;
  /** Where none was seen: the number is less than this, 95 % one-sided. */
  readonly lessThan: number | null;
}

export interface SizeClassResult extends ClassTally {
  readonly words: string;
  /** Null while the amount tested is not named. */
  readonly number: ClassNumber | null;
  readonly most: Decimal | null;
  /** Null where no limit is set or no number can be given yet. */
  readonly conforms: boolean | null;
}

/**
 * Containers or mL that the counted specimens come from, times the part looked at: P·A_P/A_T turned over, as USP <788>
 * method 2 scales a part of a filter (from memory). 1 for the sheet itself; null while the method's basis is not named.
 */
export function amountLookedAt(
  per: AmountBasis,
  { containers, volume, portion }: TestedAmount,
): number | null {
  const share = portion ? decimal(portion).div(100).toNumber() : 1;
  if (per === "sheet") return 1;
  const named = per === "container" ? containers : volume;
  return named ? decimal(named).toNumber() * share : null;
}

/**
 * A number of specimens in an amount with its exact Poisson limits (F. Garwood, Biometrika 28 (1936) 437); none seen is
 * less than −ln 0.05 = 2.996 specimens’ worth. U of the amount is not in it.
 */
export function numberPerAmount(counted: number, amount: number): ClassNumber {
  const { lower, upper } = garwoodInterval(counted);
  return {
    value: counted / amount,
    lower: lower / amount,
    upper: upper / amount,
    lessThan: counted === 0 ? zeroCountUpperLimit() / amount : null,
  };
}

/** The numbers of a sheet by class, each held against its limit by the method's rule. */
export function sizeClassResults(
  { per, rule }: Pick<SizeClasses, "per" | "rule">,
  classes: readonly SizeClass[],
  tallies: readonly ClassTally[],
  tested: TestedAmount,
): readonly SizeClassResult[] {
  const amount = amountLookedAt(per, tested);
  return classes.map(({ words, most }, at) => {
    const { counted = 0, near = 0 } = tallies[at] ?? {};
    const number = amount === null ? null : numberPerAmount(counted, amount);
    const held = rule === "guarded-acceptance" ? number?.upper : number?.value;
    const conforms =
      most === null || held === undefined
        ? null
        : decimal(held).toDecimalPlaces(NUMBER_PLACES).lessThanOrEqualTo(most);
    return { words, counted, near, number, most, conforms };
  });
}

/** A number to four significant digits, never in powers of ten. */
export function shownNumber(value: number): string {
  return decimal(value).toSignificantDigits(4).toFixed();
}

/** `4.1`; none seen is less than its limit, rounded up so that it stays true. */
export function plainNumberWords({ value, lessThan }: ClassNumber): string {
  return lessThan === null
    ? shownNumber(value)
    : `< ${decimal(lessThan).toSignificantDigits(2, 0).toFixed()}`;
}

const WHAT_IS_MISSING: Readonly<Record<Exclude<AmountBasis, "sheet">, string>> = {
  container: "the number of containers",
  mL: "the volume tested",
};

/** What the specimens come from, in words; what is missing for the method's basis is said. */
export function amountWords(per: AmountBasis, tested: TestedAmount): string {
  const { containers, volume, portion } = tested;
  const parts = [
    ...(containers ? [countedNoun(Number(containers), "container")] : []),
    ...(volume ? [`${volume} mL tested`] : []),
    ...(portion ? [`${portion} % of it looked at`] : []),
  ];
  if (per === "sheet" && AMOUNT_KEYS.every((key) => !tested[key])) return "everything on this sheet";
  if (per === "sheet" || amountLookedAt(per, tested) !== null) return parts.join(", ");
  return [
    ...parts,
    `${WHAT_IS_MISSING[per]} is not named on the sheet: no number ${BASIS_WORDS[per]} can be given`,
  ].join("; ");
}

/** A decision on the number of a class in one sentence; null where no limit is set. */
export function classDecisionWords(
  { words, number, most, conforms }: SizeClassResult,
  { per, rule }: Pick<SizeClasses, "per" | "rule">,
  name: string,
): string | null {
  if (most === null) return null;
  const limit = `at most ${most.toFixed()} ${BASIS_WORDS[per]}`;
  if (number === null || conforms === null)
    return `${name} ${words}, ${limit}: undecided, ${WHAT_IS_MISSING[per === "mL" ? "mL" : "container"]} is not named.`;
  const verdict = conforms ? "conforms" : "does not conform";
  return `${name} ${words}: ${plainNumberWords(number)} ${BASIS_WORDS[per]}; ${limit}: ${verdict} by ${NUMBER_RULE_WORDS[rule]}.`;
}
