import type {
  ControlKind,
  ControlLimits,
  ControlPoint,
  ControlSample,
  ControlSeries,
} from "../../contract/records/control-sample.ts";
import type { CountCategory, CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { CountResults } from "../../contract/records/count-results.ts";
import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requireNotNegative } from "../../quantity/input-error.ts";
import type { Interval } from "../../statistics/interval.ts";
import { compareRates } from "../intervals/poisson-rate.ts";
import { lastDensity, recoveryOfCount } from "./control-found.ts";
import {
  blankChance,
  blankLimit,
  charted,
  differenceLimit,
  predictionLimits,
  together,
} from "./control-limits.ts";
import { relativeDifference } from "./recovery.ts";

/** A closed count that is a control sample. */
export interface ControlCount {
  readonly id: string;
  readonly number: string;
  readonly sample: string;
  readonly closedAt: string;
  readonly categories: readonly CountCategory[];
  readonly control: ControlSample;
  readonly results: CountResults;
  /** What it is a duplicate of; results null while that is not closed. */
  readonly other: { readonly number: string; readonly results: CountResults | null } | null;
}

interface Ends {
  readonly lower: Decimal | null;
  readonly upper: Decimal | null;
}

const NONE: Ends = { lower: null, upper: null };

/** The stated limits as numbers. @throws InputError `controlLimits.<field>` */
export function readControlLimits(limits: ControlLimits): Readonly<Record<ControlKind, Ends>> {
  const read = (key: Exclude<keyof ControlLimits, "source">): Decimal | null => {
    const field = `controlLimits.${key}`;
    const typed = limits[key];
    return typed.trim() === "" ? null : requireNotNegative(field, readDecimal(field, typed).value);
  };
  const recovery = { lower: read("recoveryLower"), upper: read("recoveryUpper") };
  if (recovery.lower && recovery.upper?.lessThan(recovery.lower)) {
    throw new InputError("controlLimits.recoveryUpper", "is below the lower limit");
  }
  return {
    blank: { lower: null, upper: read("blankUpper") },
    recovery,
    duplicate: { lower: null, upper: read("duplicateUpper") },
  };
}

const textOf = (value: Decimal | null) => value && textOfDecimal(value);
const recordOf = ({ lower, upper }: Ends) => ({ lower: textOf(lower), upper: textOf(upper) });

const isOutside = (value: Decimal, { lower, upper }: Ends): boolean =>
  (lower !== null && value.lessThan(lower)) || (upper !== null && value.greaterThan(upper));

type Found = Pick<ControlPoint, "from"> & {
  readonly value: Decimal;
  readonly own: Ends | null;
  readonly limits: Ends | null;
  readonly earlier: number;
  readonly isBeyond: boolean;
};

interface Values {
  readonly found: readonly (readonly [ControlCount, Found])[];
  readonly without: readonly string[];
}

function blanks(counts: readonly ControlCount[]): Values {
  const used = counts.filter(({ results }) => results.fields > 0);
  const areasOf = ({ results }: ControlCount) => ({ objects: decimal(results.total), areas: results.fields });
  const chart = charted(
    used,
    (before, one) => {
      const earlier = before.map(areasOf);
      const most = blankLimit(earlier, one.results.fields);
      return most && { most, p: blankChance(earlier, areasOf(one)) };
    },
    (one, { most }) => decimal(one.results.total).floor().greaterThan(most),
  );
  return {
    found: used.map((one, i) => {
      const { limits = null, earlier = [], isBeyond = false } = chart[i] ?? {};
      const { total, fields } = one.results;
      const before = together(earlier.map(areasOf));
      return [
        one,
        {
          value: decimal(total).div(fields),
          own: null,
          limits: limits && { lower: null, upper: limits.most.div(fields) },
          ...{ earlier: earlier.length, isBeyond },
          from: {
            ...{ kind: "blank", objects: total, fields, p: limits?.p ?? null },
            before: { objects: textOfDecimal(before.objects), fields: before.areas },
          },
        },
      ];
    }),
    without: counts
      .filter((one) => !used.includes(one))
      .map(({ number }) => `${number}: no field was counted to its end.`),
  };
}

function recoveries(counts: readonly ControlCount[]): Values {
  const each = counts.map((count) => {
    const { control, results } = count;
    return { count, control, found: control.kind === "recovery" ? recoveryOfCount(control, results) : null };
  });
  const used = each.flatMap(({ count, control, found }) =>
    found && control.kind === "recovery" ? [{ count, control, found }] : [],
  );
  const chart = charted(
    used,
    (earlier) => predictionLimits(earlier.map(({ found }) => found.percent)),
    ({ found }, limits: Interval) => isOutside(found.percent, limits),
  );
  return {
    found: used.map(({ count, control, found }, i) => {
      const { limits = null, earlier = [], isBeyond = false } = chart[i] ?? {};
      const name = count.categories.find(({ key }) => key === control.of)?.name ?? "total";
      return [
        count,
        {
          value: found.percent,
          own: { lower: found.lower, upper: found.upper },
          ...{ limits, earlier: earlier.length, isBeyond },
          from: {
            ...{ kind: "recovery", name, unit: found.unit, source: control.source },
            found: textOfDecimal(found.found),
            background: textOfDecimal(found.background),
            stated: textOfDecimal(found.stated),
            portion: textOfDecimal(found.portion),
          },
        },
      ];
    }),
    without: each
      .filter(({ found }) => found === null)
      .map(
        ({ count: { number, results } }) => `${number}: ${results.missing ?? "no density of it was given"}.`,
      ),
  };
}

/** A result to be compared: the density of the total, else objects per field; with what one object stands for. */
function resultOf(results: CountResults) {
  const density = lastDensity(results, "total");
  if (density) return { value: decimal(density.value), per: decimal(density.perObject), unit: density.unit };
  if (results.fields === 0) return null;
  const per = decimal(1).div(results.fields);
  return { value: decimal(results.total).times(per), per, unit: "objects per field" };
}

/** Chance of so unlike counts of one density; null for halves, which the exact test does not take. */
function chanceOf(
  first: CountResults,
  second: CountResults,
  perFirst: Decimal,
  perSecond: Decimal,
): number | null {
  const [a, b] = [Number(first.total), Number(second.total)];
  if (!Number.isInteger(a) || !Number.isInteger(b) || a + b === 0) return null;
  return compareRates(
    { count: a, exposure: 1 / perFirst.toNumber() },
    { count: b, exposure: 1 / perSecond.toNumber() },
  ).p;
}

function duplicates(counts: readonly ControlCount[]): Values {
  const without: string[] = [];
  const used = counts.flatMap((count) => {
    const { number, results, other } = count;
    const refuse = (why: string): [] => {
      without.push(`${number}: ${why}.`);
      return [];
    };
    if (!other?.results) return refuse(`count ${other?.number ?? ""} is not closed`);
    const [first, second] = [resultOf(other.results), resultOf(results)];
    if (!first || !second || first.unit !== second.unit) return refuse("the two have no result in one unit");
    const difference = relativeDifference(first.value, second.value);
    if (difference === null) return refuse(`nothing was found in it, nor in ${other.number}`);
    const p = chanceOf(other.results, results, first.per, second.per);
    return [{ count, other: other.number, first, second, difference, p }];
  });
  const chart = charted(
    used,
    (earlier) => differenceLimit(earlier.map(({ difference }) => difference)),
    ({ difference }, limit: Decimal) => difference.abs().greaterThan(limit),
  );
  return {
    found: used.map(({ count, other, first, second, difference, p }, i) => {
      const { limits = null, earlier = [], isBeyond = false } = chart[i] ?? {};
      return [
        count,
        {
          value: difference.abs(),
          own: null,
          limits: limits && { lower: null, upper: limits },
          ...{ earlier: earlier.length, isBeyond },
          from: {
            ...{ kind: "duplicate", other, unit: first.unit, p },
            first: textOfDecimal(first.value),
            second: textOfDecimal(second.value),
          },
        },
      ];
    }),
    without,
  };
}

const VALUES: Readonly<Record<ControlKind, (counts: readonly ControlCount[]) => Values>> = {
  blank: blanks,
  recovery: recoveries,
  duplicate: duplicates,
};

const UNITS: Readonly<Record<ControlKind, string>> = {
  blank: "objects per field",
  recovery: "%",
  duplicate: "%",
};

/**
 * Control samples of one kind under one method as a series: each against the limits that the earlier ones give, and against
 * those that the method states.
 * @param counts closed ones of this kind, oldest first
 */
export function controlSeries(
  kind: ControlKind,
  { name, controlLimits }: CountMethodDefinition,
  counts: readonly ControlCount[],
): ControlSeries {
  const stated = controlLimits ? readControlLimits(controlLimits)[kind] : NONE;
  const hasStated = stated.lower !== null || stated.upper !== null;
  const { found, without } = VALUES[kind](counts);
  return {
    kind,
    name,
    unit: UNITS[kind],
    stated: hasStated ? recordOf(stated) : null,
    source: hasStated ? (controlLimits?.source ?? "") : "",
    points: found.map(([{ id, number, sample, closedAt }, { value, own, limits, ...rest }]) => ({
      ...{ countId: id, number, sample, closedAt },
      value: textOfDecimal(value),
      own: own && recordOf(own),
      limits: limits && recordOf(limits),
      isOutsideStated: isOutside(value, stated),
      ...rest,
    })),
    without: [...without],
    isClustered:
      kind !== "recovery" &&
      counts.some(({ results, other }) => results.poissonSuppressed || other?.results?.poissonSuppressed),
  };
}
