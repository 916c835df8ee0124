import { countedNoun } from "../../quantity/counted-noun.ts";
import type { CountRule, StoppingRule } from "../../vocabulary/counting.ts";
import { betweenFieldInterval } from "../intervals/between-field-interval.ts";
import { evidenceOfFields } from "../intervals/count-evidence.ts";
import { countNeeded, fieldsNeeded } from "../intervals/counting-effort.ts";
import { garwoodInterval } from "../intervals/poisson-interval.ts";
import { requireStoppingRule } from "../methods/stopping-rule.ts";

/** Where a counting session stands. */
export interface CountingProgress {
  /** Objects by class, marker spores left out. */
  readonly byClass: Readonly<Record<string, number>>;
  readonly marker: number;
  /** Objects in each closed field, an empty field as 0. */
  readonly fields: readonly number[];
  readonly minutes: number;
  /** Left out: the rule of today. */
  readonly countRule?: CountRule;
}

/** A rule against the progress: met or not, what is there and what is wanted, in words for a person. */
export interface StoppingState {
  readonly met: boolean;
  readonly words: string;
  /** What is still missing, one line per open condition; empty when met. */
  readonly missing: readonly string[];
  /** States of the parts of a combination, in its order. */
  readonly parts: readonly StoppingState[];
}

type Amount = Extract<StoppingRule, { readonly atLeast: number }>;
type IntervalRule = Extract<StoppingRule, { readonly kind: "interval" }>;

function unitsOf(progress: CountingProgress, classes: readonly string[] | undefined): number {
  const wanted = classes ?? Object.keys(progress.byClass);
  return wanted.reduce((sum, name) => sum + (progress.byClass[name] ?? 0), 0);
}

const NOUNS = { units: "object", fields: "field", minutes: "minute", marker: "marker spore" } as const;

function amountName(rule: Amount, number: number): string {
  const classes = rule.kind === "units" && rule.classes ? ` of ${rule.of ?? rule.classes.join(", ")}` : "";
  return `${countedNoun(number, NOUNS[rule.kind])}${classes}`;
}

/** As `amountName`, of what is wanted still. */
function moreOf(rule: Amount, number: number): string {
  return amountName(rule, number).replace(" ", " more ");
}

function amountHad(rule: Amount, progress: CountingProgress): number {
  switch (rule.kind) {
    case "units":
      return unitsOf(progress, rule.classes);
    case "fields":
      return progress.fields.length;
    case "minutes":
      return progress.minutes;
    case "marker":
      return progress.marker;
  }
}

function amountState(rule: Amount, progress: CountingProgress): StoppingState {
  const have = amountHad(rule, progress);
  const met = have >= rule.atLeast;
  return {
    met,
    words: `${have} of ${amountName(rule, rule.atLeast)}`,
    missing: met ? [] : [moreOf(rule, rule.atLeast - have)],
    parts: [],
  };
}

function percent(fraction: number): string {
  return `${Number((fraction * 100).toFixed(1))} %`;
}

/** Relative half-width of the interval that may be shown; null while nothing can be said. */
function halfWidthReached({ fields, countRule }: CountingProgress, level: number): number | null {
  if (fields.length < 2) return null;
  const evidence = evidenceOfFields(fields, level, countRule);
  if (evidence.total === 0) return null;
  if (evidence.basis === "between-fields") return betweenFieldInterval(fields, level).relativeHalfWidth;
  const { lower, upper } = garwoodInterval(evidence.total, level);
  return (upper - lower) / 2 / evidence.total;
}

function intervalMissing(rule: IntervalRule, { fields, countRule }: CountingProgress): string {
  if (fields.length < 2) return "at least 2 fields, to see how they differ";
  const { total, poissonSuppressed } = evidenceOfFields(fields, rule.level, countRule);
  const objects = countNeeded(rule.relativeHalfWidth, "garwood-half-width", rule.level) - Math.floor(total);
  if (!poissonSuppressed && objects > 0) return `about ${countedNoun(objects, "more object")}`;
  // Clustered, or enough objects whose scatter over a few fields still leaves a wide interval.
  const needed = fieldsNeeded(fields, rule.relativeHalfWidth, rule.level);
  return `about ${countedNoun(Math.max(1, needed?.stillNeeded ?? 1), "more field")}, by the scatter so far`;
}

function intervalState(rule: IntervalRule, progress: CountingProgress): StoppingState {
  const reached = halfWidthReached(progress, rule.level);
  const met = reached !== null && reached <= rule.relativeHalfWidth;
  const have = reached === null ? "no interval yet" : `± ${percent(reached)}`;
  return {
    met,
    words: `${have}, wanted ± ${percent(rule.relativeHalfWidth)} at ${percent(rule.level)}`,
    missing: met ? [] : [intervalMissing(rule, progress)],
    parts: [],
  };
}

function combined(
  rule: Extract<StoppingRule, { kind: "all" | "any" }>,
  progress: CountingProgress,
): StoppingState {
  const parts = rule.rules.map((part) => stateOf(part, progress));
  const all = rule.kind === "all";
  const met = all ? parts.every((part) => part.met) : parts.some((part) => part.met);
  const open = parts.filter((part) => !part.met);
  const lines = all
    ? open.flatMap((part) => part.missing)
    : [open.map((part) => part.missing.join(" and ")).join(", or ")];
  const words = parts.map((part) => (part.parts.length > 1 ? `(${part.words})` : part.words));
  return { met, words: words.join(all ? " and " : " or "), missing: met ? [] : lines, parts };
}

function stateOf(rule: StoppingRule, progress: CountingProgress): StoppingState {
  switch (rule.kind) {
    case "all":
    case "any":
      return combined(rule, progress);
    case "interval":
      return intervalState(rule, progress);
    default:
      return amountState(rule, progress);
  }
}

/**
 * Which conditions of a stopping rule are met and what is still missing.
 * @throws InputError when the rule makes no sense
 */
export function stoppingState(rule: StoppingRule, progress: CountingProgress): StoppingState {
  requireStoppingRule(rule);
  return stateOf(rule, progress);
}
