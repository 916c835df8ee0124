import type { CountCategory } from "../../contract/records/count-method.ts";
import type { RecountReport } from "../../contract/records/recount.ts";
import type { Decimal } from "../../quantity/decimal.ts";
import { decimal } from "../../quantity/decimal.ts";
import { textOfDecimal } from "../../quantity/decimal-text.ts";
import { sumOfObjects } from "../inputs/counting-unit.ts";
import { keysOfKind } from "../inputs/field-counts.ts";
import { compareCounts } from "../intervals/compare-counts.ts";
import { roundStable } from "../intervals/count-checks.ts";
import { recountTest } from "./recount-test.ts";

/** Objects of each category in some fields. */
export interface CountOfFields {
  readonly fields: number;
  readonly byCategory: Readonly<Record<string, number>>;
}

export interface RecountData {
  readonly categories: readonly CountCategory[];
  readonly first: CountOfFields;
  readonly second: CountOfFields;
  /** The laboratory's own intracounter relative standard deviation S_r; null without one. */
  readonly intracounterDeviation: Decimal | null;
  readonly sameCounter: boolean;
}

function sumOf(count: CountOfFields, keys: readonly string[]): number {
  return sumOfObjects(keys.map((key) => count.byCategory[key] ?? 0));
}

function comparison(of: string, keys: readonly string[], { first, second }: RecountData) {
  const one = sumOf(first, keys);
  const other = sumOf(second, keys);
  const whole = Number.isInteger(one) && Number.isInteger(other);
  const found = whole
    ? compareCounts({ count: one, exposure: first.fields }, { count: other, exposure: second.fields })
    : null;
  return {
    of,
    first: textOfDecimal(decimal(one)),
    firstFields: first.fields,
    second: textOfDecimal(decimal(other)),
    secondFields: second.fields,
    p: found ? roundStable(found.exactP) : null,
    differs: found ? found.differs : null,
  };
}

type Acceptance = NonNullable<RecountReport["acceptance"]>;

/** The acceptance test compares roots of rates, so objects per field serve as well as objects per mm². */
function acceptanceOf({ categories, first, second, intracounterDeviation }: RecountData): Acceptance | null {
  if (!intracounterDeviation) return null;
  const keys = keysOfKind(categories, "object");
  const rate = (count: CountOfFields) => decimal(sumOf(count, keys)).div(count.fields);
  const { difference, limit, accepted } = recountTest(rate(first), rate(second), intracounterDeviation);
  return {
    intracounterDeviation: textOfDecimal(intracounterDeviation),
    difference: textOfDecimal(difference),
    limit: textOfDecimal(limit),
    accepted,
  };
}

/** True where doubling both totals leaves no decimals. */
function isInHalves(total: RecountReport["comparisons"][number] | undefined): boolean {
  return [total?.first, total?.second].every((count) => Number.isInteger(Number(count ?? "0") * 2));
}

function wordsOf(comparisons: RecountReport["comparisons"], acceptance: Acceptance | null): string {
  const total = comparisons[0];
  const differing = comparisons.slice(1).filter((one) => one.differs);
  const byTotal =
    total?.p === null || total === undefined
      ? `The totals have ${isInHalves(total) ? "halves" : "decimals"}, so no exact test was made.`
      : total.differs
        ? "The totals differ more than chance allows."
        : "The totals differ no more than chance allows.";
  const byClass =
    differing.length === 0 ? "" : ` Differing categories: ${differing.map((one) => one.of).join(", ")}.`;
  if (!acceptance) return `${byTotal}${byClass}`;
  const verdict = acceptance.accepted
    ? "The pair passes the acceptance test."
    : "The pair is rejected: find the cause and count both again.";
  return `${verdict} ${byTotal}${byClass}`;
}

/**
 * A recount beside the first count: total and each category by the exact test of equal rates at 95 %, and the acceptance
 * test |√X₁ − √X₂| ≤ 2.77·X̄·S_r/2 when the laboratory's own S_r is given (NIOSH 7400, quality control step 13; from
 * memory).
 * @throws InputError when S_r is not greater than zero or there is no field
 */
export function recountReport(data: RecountData): RecountReport {
  const { categories } = data;
  const comparisons = [
    comparison("total", keysOfKind(categories, "object"), data),
    ...categories.map(({ key }) => comparison(key, [key], data)),
  ];
  const acceptance = acceptanceOf(data);
  return {
    comparisons,
    acceptance,
    sameCounter: data.sameCounter,
    words: wordsOf(comparisons, acceptance),
  };
}
