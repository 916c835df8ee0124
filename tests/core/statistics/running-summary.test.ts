import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { decimals } from "#core/selftest/rows-of-cases.ts";
import { depthOf, keyAt, type OrderTree, withKey, withoutKey } from "#core/statistics/order-tree.ts";
import { PERCENTILE_TYPES, percentile } from "#core/statistics/percentile.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import { type BasicSummary, summarise } from "#core/statistics/summary.ts";
import { length, nearly, reading } from "../../support/sample-arbitraries.ts";

/** A person's changes to a column: a new row, a struck one, a corrected one; `at` picks the row. */
type Change =
  | { readonly kind: "add"; readonly value: Decimal }
  | { readonly kind: "remove"; readonly at: number }
  | { readonly kind: "replace"; readonly at: number; readonly value: Decimal };

function changes(value: fc.Arbitrary<Decimal>): fc.Arbitrary<Change[]> {
  const at = fc.nat();
  return fc.array(
    fc.oneof(
      fc.record({ kind: fc.constant("add" as const), value }),
      fc.record({ kind: fc.constant("remove" as const), at }),
      fc.record({ kind: fc.constant("replace" as const), at, value }),
    ),
    { maxLength: 80 },
  );
}

/** Applies the changes to the running summary and to a plain list. */
function apply(running: RunningSummary, list: Decimal[], change: Change): Decimal[] {
  if (change.kind === "add") {
    running.add(change.value);
    return [...list, change.value];
  }
  if (list.length === 0) return list;
  const place = change.at % list.length;
  const before = list[place] ?? decimal(0);
  if (change.kind === "remove") {
    running.remove(before);
    return list.filter((_, index) => index !== place);
  }
  running.replace(before, change.value);
  return list.map((value, index) => (index === place ? change.value : value));
}

function sameNumber(a: Decimal | null | undefined, b: Decimal | null | undefined, relative: string): void {
  expect(a === null || a === undefined).toBe(b === null || b === undefined);
  if (a && b && !nearly(a, b, relative)) expect(a.toString()).toBe(b.toString());
}

function expectSame(running: BasicSummary, batch: BasicSummary): void {
  expect(running.n).toBe(batch.n);
  for (const field of ["sum", "mean", "minimum", "maximum", "median"] as const) {
    sameNumber(running[field], batch[field], "1e-22");
  }
  for (const field of ["variance", "deviation", "standardError", "coefficientOfVariation"] as const) {
    sameNumber(running[field], batch[field], "1e-12");
  }
  sameNumber(running.meanInterval?.lower, batch.meanInterval?.lower, "1e-12");
  sameNumber(running.deviationInterval?.upper, batch.deviationInterval?.upper, "1e-12");
  sameNumber(running.geometric?.mean, batch.geometric?.mean, "1e-12");
  sameNumber(running.geometric?.deviation, batch.geometric?.deviation, "1e-7");
}

describe("a running summary", () => {
  it.each([
    ["readings of either sign", reading],
    ["lengths", length],
  ])("equals the summary from scratch after any changes (%s)", (_, value) => {
    fc.assert(
      fc.property(changes(value), (list) => {
        const running = new RunningSummary();
        const left = list.reduce((values, change) => apply(running, values, change), [] as Decimal[]);
        expect(running.n).toBe(left.length);
        if (left.length === 0) return;
        expectSame(running.summary(), summarise(left));
        for (const type of PERCENTILE_TYPES) {
          const p = decimal("0.9");
          sameNumber(running.percentile(p, type).value, percentile(left, p, type).value, "1e-22");
        }
      }),
      { numRuns: 150 },
    );
  });

  it("forgets a wild value without a trace once it is taken out", () => {
    const running = new RunningSummary();
    for (const value of decimals("12.4 15.1 9.8")) running.add(value);
    const before = JSON.stringify(running.summary());
    running.add(decimal("353535353535.3"));
    expect(JSON.stringify(running.summary())).not.toBe(before);
    running.remove(decimal("353535353535.3"));
    expect(JSON.stringify(running.summary())).toBe(before);
  });

  it("holds NIST NumAcc4 exactly, where running sums of squares in binary floats fail", () => {
    const running = new RunningSummary();
    running.add(decimal("10000000.2"));
    for (let pair = 0; pair < 500; pair += 1) {
      running.add(decimal("10000000.1"));
      running.add(decimal("10000000.3"));
    }
    const { mean, deviation } = running.summary();
    expect([mean.toString(), deviation?.toString()]).toEqual(["10000000.2", "0.1"]);
  });

  it("refuses what it cannot use and then is as it was", () => {
    const running = new RunningSummary();
    expect(() => running.summary()).toThrow("values: must not be empty");
    running.add(decimal("2.5"));
    expect(() => running.remove(decimal("2.6"))).toThrow("value: is not in this sample: 2.6");
    expect(() => running.replace(decimal("2.5"), decimal(Number.NaN))).toThrow(
      "after: is not a finite number",
    );
    expect(() => running.add(decimal("1e13"))).toThrow("value: is too large");
    expect(() => running.summary(1.5)).toThrow("level:");
    expect(running.n).toBe(1);
    expect(running.summary().mean.toString()).toBe("2.5");
  });
});

describe("the order tree", () => {
  const filled = (keys: readonly bigint[]) => keys.reduce<OrderTree>(withKey, null);

  it("gives the keys in order and loses exactly the one removed", () => {
    fc.assert(
      fc.property(fc.array(fc.bigInt({ min: -50n, max: 50n }), { minLength: 1 }), fc.nat(), (keys, pick) => {
        const rising = [...keys].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
        const tree = filled(keys);
        expect(rising.map((_, rank) => keyAt(tree, rank))).toEqual(rising);
        const gone = pick % rising.length;
        const rest = withoutKey(tree, rising[gone] ?? 0n);
        const left = rising.filter((_, rank) => rank !== gone);
        expect(left.map((_, rank) => keyAt(rest ?? null, rank))).toEqual(left);
      }),
    );
  });

  it("stays shallow when keys come in order and leave in order", () => {
    const count = 4096;
    let tree = filled(Array.from({ length: count }, (_, key) => BigInt(key)));
    expect(depthOf(tree)).toBeLessThanOrEqual(2 * Math.log2(count) + 1);
    for (let key = 0; key < count - 64; key += 1) tree = withoutKey(tree, BigInt(key)) ?? null;
    expect(depthOf(tree)).toBeLessThanOrEqual(2 * Math.log2(64) + 1);
    expect(keyAt(tree, 0)).toBe(BigInt(count - 64));
  });

  it("says when a key or rank is not there", () => {
    expect(withoutKey(filled([1n, 3n]), 2n)).toBeUndefined();
    expect(() => keyAt(filled([1n]), 1)).toThrow(RangeError);
  });
});
