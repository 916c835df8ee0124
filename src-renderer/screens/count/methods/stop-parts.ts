import type { CountCategory } from "#core/contract/records/count-method.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { problemOfNumber } from "#core/quantity/number-rule.ts";
import type { StoppingRule } from "#core/vocabulary/counting.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";
import type { Choice } from "../../../parts/form/SelectField.tsx";

/** One condition of a combined rule as typed: `what` is one of `conditionChoices`. */
export interface StopPart {
  readonly what: string;
  readonly number: string;
}
export const EMPTY_PART: StopPart = { what: "units", number: "" };

/** A combined stopping rule as typed. */
export interface StopTogether {
  readonly parts: readonly StopPart[];
  /** All of them, or whichever comes first. */
  readonly together: string;
  /** So many fields are enough in any case; empty: no such end. */
  readonly latest: string;
}
export const NO_PARTS: StopTogether = {
  parts: [EMPTY_PART, { what: "fields", number: "" }],
  together: "all",
  latest: "",
};

const OF_SUM = "sum ";
const SIMPLE: readonly Choice[] = [
  { value: "units", words: "objects of the total" },
  { value: "fields", words: "fields" },
  { value: "minutes", words: "minutes" },
  { value: "interval", words: "% half-width of the interval, 95 %" },
];

const sumsOf = (categories: readonly CountCategory[]): readonly string[] => [
  ...new Set(
    categories.flatMap(({ sums = [] }) => sums.filter(({ part }) => part === "in").map(({ name }) => name)),
  ),
];

/** What a condition may count: the total, a sum of the method, marker spores, fields, minutes, the interval. */
export function conditionChoices(categories: readonly CountCategory[]): readonly Choice[] {
  const marker = categories.some(({ kind }) => kind === "marker");
  return [
    ...SIMPLE.slice(0, 1),
    ...sumsOf(categories).map((name) => ({ value: OF_SUM + name, words: `objects of the sum “${name}”` })),
    ...(marker ? [{ value: "marker", words: "marker spores" }] : []),
    ...SIMPLE.slice(1),
  ];
}

function partRule(
  { what, number }: StopPart,
  categories: readonly CountCategory[],
  field: string,
): StoppingRule {
  const atLeast = readDecimal(field, number).value.toNumber();
  if (what === "interval") return { kind: "interval", relativeHalfWidth: atLeast / 100, level: 0.95 };
  if (what === "fields" || what === "minutes" || what === "marker") return { kind: what, atLeast };
  if (!what.startsWith(OF_SUM)) return { kind: "units", atLeast };
  const of = what.slice(OF_SUM.length);
  const classes = categories
    .filter(({ sums = [] }) => sums.some(({ name, part }) => name === of && part === "in"))
    .map(({ key }) => key);
  return { kind: "units", atLeast, classes, of };
}

const withLatest = (rule: StoppingRule, latest: string): StoppingRule =>
  latest.trim() === ""
    ? rule
    : {
        kind: "any",
        rules: [rule, { kind: "fields", atLeast: readDecimal("latest", latest).value.toNumber() }],
      };

/** The rule of all conditions. @throws InputError for a number that cannot be read */
export function togetherRule(
  { parts, together, latest }: StopTogether,
  categories: readonly CountCategory[],
): StoppingRule {
  const rules = parts.map((part, at) => partRule(part, categories, `stopping.rule.rules.${at}`));
  const [only] = rules;
  const joined: StoppingRule =
    only && rules.length === 1 ? only : { kind: together === "any" ? "any" : "all", rules };
  return withLatest(joined, latest);
}

const WORDS: Readonly<Record<string, (number: string) => string>> = {
  units: (number) => `${number} objects`,
  fields: (number) => `${number} fields`,
  minutes: (number) => `${number} minutes`,
  marker: (number) => `${number} marker spores`,
  interval: (number) => `± ${number} % at 95 %`,
};

/** `400 objects of “land pollen” and 30 fields, or 100 fields`. */
export function togetherName({ parts, together, latest }: StopTogether): string {
  const words = parts.map(({ what, number }) =>
    what.startsWith(OF_SUM)
      ? `${number} objects of “${what.slice(OF_SUM.length)}”`
      : (WORDS[what]?.(number) ?? number),
  );
  const joined = words.join(together === "any" ? " or " : " and ");
  return latest.trim() === "" ? joined : `${joined}, or ${latest} fields`;
}

/** What is wrong, at the fields of the conditions. */
export function togetherProblems(
  { parts, latest }: StopTogether,
  categories: readonly CountCategory[],
): FieldErrors {
  const errors: Record<string, string> = {};
  const known = conditionChoices(categories).map(({ value }) => value);
  parts.forEach(({ what, number }, at) => {
    const isShare = what === "interval";
    const problem = problemOfNumber(number, { sign: "positive", whole: !isShare && what !== "minutes" });
    if (problem) errors[`stopTogether.parts.${at}.number`] = problem;
    else if (isShare && readDecimal("number", number).value.greaterThan(200)) {
      errors[`stopTogether.parts.${at}.number`] = "must be at most 200";
    }
    if (!known.includes(what)) errors[`stopTogether.parts.${at}.what`] = "is not in this method any more";
    if (parts.findIndex((one) => one.what === what) < at) {
      errors[`stopTogether.parts.${at}.what`] = "stands above already";
    }
  });
  const end = problemOfNumber(latest, { optional: true, sign: "positive", whole: true });
  if (end) errors["stopTogether.latest"] = end;
  return errors;
}
