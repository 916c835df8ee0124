import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type ClassTable,
  classify,
  limitOf,
  requireClassTable,
  type SizeClass,
  withSharedLimits,
  wordsOf,
} from "#core/methods/class-table.ts";
import {
  HONEY_ABSOLUTE_CLASSES,
  HONEY_FREQUENCY_CLASSES,
  HONEY_FREQUENCY_CLASSES_TO_16,
  HONEYDEW_CLASSES,
  pollenShare,
} from "#core/methods/honey-classes.ts";
import { POLLEN_SHAPE_CLASSES, polarRatio } from "#core/methods/pollen-shape-classes.ts";
import { POLLEN_SIZE_CLASSES, POLLEN_SIZE_CLASSES_FIVE } from "#core/methods/pollen-size-classes.ts";
import { SPORE_QUOTIENT_CLASSES } from "#core/methods/spore-quotient-classes.ts";
import { type Decimal, decimal, ZERO } from "#core/quantity/decimal.ts";

const SHIPPED: readonly ClassTable[] = [
  POLLEN_SHAPE_CLASSES,
  POLLEN_SIZE_CLASSES,
  POLLEN_SIZE_CLASSES_FIVE,
  SPORE_QUOTIENT_CLASSES,
  HONEY_FREQUENCY_CLASSES,
  HONEY_FREQUENCY_CLASSES_TO_16,
  HONEY_ABSOLUTE_CLASSES,
  HONEYDEW_CLASSES,
];

/** Does a class, read by itself, contain the value? */
function contains(entry: SizeClass, value: Decimal): boolean {
  const from = entry.from === null ? null : limitOf("from", entry.from);
  const to = entry.to === null ? null : limitOf("to", entry.to);
  const above = from === null || value.greaterThan(from) || (entry.fromClosed && value.equals(from));
  const below = to === null || value.lessThan(to) || (entry.toClosed && value.equals(to));
  return above && below;
}

/** Values near and on the limits of a table, and anywhere. */
function valuesFor(table: ClassTable): fc.Arbitrary<Decimal> {
  const limits = table.classes.flatMap(({ from, to }) => [from, to]).filter((text) => text !== null);
  return fc.oneof(
    fc.constantFrom(...limits).map((text) => limitOf("limit", text)),
    fc
      .tuple(fc.constantFrom(...limits), fc.integer({ min: -50, max: 50 }))
      .map(([text, step]) => limitOf("limit", text).plus(decimal(step).div(1000))),
    fc.double({ min: -10, max: 2e6, noNaN: true }).map((value) => decimal(value)),
  );
}

describe.each(SHIPPED)("$id", (table) => {
  it("is in order and has a source", () => {
    expect(() => requireClassTable(table)).not.toThrow();
    expect(table.source.length).toBeGreaterThan(10);
  });

  it("gives every value exactly one answer, and it is the one its limits give", () => {
    fc.assert(
      fc.property(valuesFor(table), (value) => {
        const holders = table.classes.filter((entry) => contains(entry, value)).map(({ name }) => name);
        const answer = classify(value, table);
        if (holders.length === 1) expect(answer).toEqual({ kind: "class", name: holders[0] });
        else if (holders.length === 2) {
          expect(answer).toEqual({ kind: "boundary", below: holders[0], above: holders[1] });
        } else expect(["boundary", "gap", "outside"]).toContain(answer.kind);
        expect(holders.length).toBeLessThanOrEqual(2);
        expect(wordsOf(answer).length).toBeGreaterThan(0);
      }),
    );
  });

  it("rises: a larger value is never in a lower class", () => {
    const rank = (value: Decimal) => {
      const answer = classify(value, table);
      return answer.kind === "class" ? table.classes.findIndex(({ name }) => name === answer.name) : null;
    };
    fc.assert(
      fc.property(valuesFor(table), valuesFor(table), (one, other) => {
        const [low, high] = one.lessThan(other) ? [one, other] : [other, one];
        const lowRank = rank(low);
        const highRank = rank(high);
        if (lowRank !== null && highRank !== null) expect(lowRank).toBeLessThanOrEqual(highRank);
      }),
    );
  });

  it.each(["class-above", "class-below"] as const)(
    "has no value on a shared limit once they go to the %s",
    (side) => {
      const decided = withSharedLimits(table, side);
      expect(decided).toMatchObject({ standing: "own" });
      expect(decided.source).toContain(table.source);
      fc.assert(
        fc.property(valuesFor(table), (value) => {
          const before = classify(value, table);
          const after = classify(value, decided);
          expect(after.kind).not.toBe("boundary");
          if (before.kind === "boundary") {
            expect(after).toEqual({
              kind: "class",
              name: side === "class-above" ? before.above : before.below,
            });
          }
        }),
      );
    },
  );
});

describe("limits", () => {
  it("are exact where they are fractions: 32/24 is 8/6", () => {
    const ratio = polarRatio(decimal(32), decimal(24));
    expect(classify(ratio, POLLEN_SHAPE_CLASSES)).toEqual({
      kind: "boundary",
      below: "subprolate",
      above: "prolate",
    });
    expect(classify(ratio.plus("1e-30"), POLLEN_SHAPE_CLASSES)).toEqual({ kind: "class", name: "prolate" });
    expect(classify(polarRatio(decimal("8.4"), decimal("6.3")), POLLEN_SHAPE_CLASSES).kind).toBe("boundary");
  });

  it("differ between the two honey tables only at 15 to 16 %", () => {
    const at = (percent: string, table: ClassTable) => classify(decimal(percent), table).kind;
    expect(at("15.5", HONEY_FREQUENCY_CLASSES)).toBe("gap");
    expect(at("15.5", HONEY_FREQUENCY_CLASSES_TO_16)).toBe("class");
    expect(at("16", HONEY_FREQUENCY_CLASSES)).toBe("class");
    expect(at("16", HONEY_FREQUENCY_CLASSES_TO_16)).toBe("boundary");
  });

  it("leave what lies beyond the table outside", () => {
    expect(classify(decimal("0.9"), SPORE_QUOTIENT_CLASSES)).toEqual({
      kind: "outside",
      side: "below",
      nearest: "spherical",
    });
    expect(classify(decimal(101), HONEY_FREQUENCY_CLASSES)).toMatchObject({ kind: "outside", side: "above" });
    expect(wordsOf(classify(decimal(101), HONEY_FREQUENCY_CLASSES))).toBe(
      "above predominant: the source names no class here",
    );
  });
});

/** Every printed limit in rising order, and who has it by the source. */
const AT_LIMITS: readonly (readonly [table: ClassTable, answers: string])[] = [
  [
    POLLEN_SHAPE_CLASSES,
    "outside|oblate|oblate/suboblate|suboblate/oblate spheroidal|oblate spheroidal/prolate spheroidal|prolate spheroidal/subprolate|subprolate/prolate|prolate",
  ],
  [
    POLLEN_SIZE_CLASSES,
    "outside|small (minuta)|small (minuta)/medium (media)|medium (media)/large (magna)|large (magna)/very large (permagna)|very large (permagna)",
  ],
  [POLLEN_SIZE_CLASSES_FIVE, "outside|small|small/medium|medium/large|large"],
  [
    SPORE_QUOTIENT_CLASSES,
    "spherical|globose|globose/subglobose|subglobose/broadly ellipsoid|broadly ellipsoid/ellipsoid|ellipsoid/oblong|oblong/cylindrical|cylindrical",
  ],
  [HONEY_FREQUENCY_CLASSES, "minor|important minor|important minor|secondary|secondary|predominant"],
  [HONEY_FREQUENCY_CLASSES_TO_16, "minor|important minor|important minor/secondary|secondary|predominant"],
  [HONEY_ABSOLUTE_CLASSES, "I|II|II/III|III/IV|IV"],
  [HONEYDEW_CLASSES, "not predominantly honeydew|not predominantly honeydew"],
];

describe("the printed limits themselves", () => {
  it.each(AT_LIMITS)("of $id go where the source puts them", (table, answers) => {
    const limits = new Map<string, Decimal>();
    for (const text of table.classes.flatMap(({ from, to }) => [from, to])) {
      if (text === null) continue;
      const value = limitOf("limit", text);
      limits.set(value.toString(), value);
    }
    const got = [...limits.values()].map((value) => {
      const answer = classify(value, table);
      if (answer.kind === "class") return answer.name;
      return answer.kind === "boundary" ? `${answer.below}/${answer.above}` : answer.kind;
    });
    expect(got.join("|")).toBe(answers);
  });
});

describe("a table of the laboratory's own", () => {
  const entry = (name: string, from: string | null, to: string | null, closed = true): SizeClass => ({
    name,
    from,
    to,
    fromClosed: closed,
    toClosed: false,
  });
  const tableOf = (...classes: SizeClass[]): ClassTable => ({
    id: "own",
    name: "own",
    quantity: "length, µm",
    source: "laboratory procedure",
    standing: "own",
    classes,
  });

  it("may leave a limit to neither neighbour, which is then a boundary", () => {
    const table = tableOf(entry("small", null, "10", false), entry("large", "10", null, false));
    expect(classify(decimal(10), table)).toEqual({ kind: "boundary", below: "small", above: "large" });
    expect(classify(decimal(-5), table)).toEqual({ kind: "class", name: "small" });
    const apart = tableOf(entry("small", null, "10", false), entry("large", "12", null, false));
    expect(classify(decimal(10), apart)).toEqual({ kind: "gap", below: "small", above: "large" });
    expect(classify(decimal(12), apart)).toEqual({ kind: "gap", below: "small", above: "large" });
  });

  it.each([
    [[], "classes: must not be empty"],
    [[entry(" ", "0", "1")], "classes.0.name: Enter a name."],
    [[entry("a", "ten", "20")], "classes.0.from: must be a number such as 1.15 or a fraction"],
    [[entry("a", "8/0", "20")], "classes.0.from: is not a finite number"],
    [[entry("a", "20", "10")], "classes.0: begins above its end"],
    [[entry("a", "10", "10")], "classes.0: begins where it ends"],
    [[entry("a", "0", "10"), entry("b", "9", "20")], "classes.1: overlaps “a”"],
    [[entry("a", "0", null), entry("b", "9", "20")], "classes.1: comes after “a”, which has no upper limit"],
    [[entry("a", "0", "5"), entry("b", null, "20")], "classes.1: has no lower limit but comes after “a”"],
  ])("is refused when out of order: %j", (classes, message) => {
    expect(() => requireClassTable(tableOf(...classes))).toThrow(message);
    expect(() => classify(decimal(1), tableOf(...classes))).toThrow(message);
  });
});

describe("ratios and shares", () => {
  it("refuse what cannot be, at the field", () => {
    expect(() => polarRatio(ZERO, decimal(1))).toThrow(/^polarAxis: /);
    expect(() => polarRatio(decimal(1), decimal(-1))).toThrow(/^equatorialDiameter: /);
    expect(() => pollenShare(decimal(1), ZERO)).toThrow(/^of: must be greater than zero/);
    expect(() => pollenShare(decimal(-1), decimal(5))).toThrow(/^counted: must not be negative/);
    expect(() => pollenShare(decimal(6), decimal(5))).toThrow(/^counted: must not be more/);
    expect(() => classify(decimal("NaN"), HONEYDEW_CLASSES)).toThrow(/^value: is not a finite number/);
  });
});
