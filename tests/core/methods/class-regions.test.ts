import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ClassRegion, classRegions } from "#core/methods/class-regions.ts";
import { classify, limitOf, withSharedLimits, wordsOf } from "#core/methods/class-table.ts";
import { OBJECT_CLASS_TABLES } from "#core/methods/class-tables.ts";
import { POLLEN_SHAPE_CLASSES } from "#core/methods/pollen-shape-classes.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";

function lookedUp(value: Decimal, regions: readonly ClassRegion[]): string | undefined {
  return regions.findLast(({ from, opens }) => from === null || value.comparedTo(from) >= (opens ? 1 : 0))
    ?.words;
}

describe.each([
  ...OBJECT_CLASS_TABLES,
  ...OBJECT_CLASS_TABLES.map((table) => withSharedLimits(table, "class-above")),
])("the regions of $id", (table) => {
  const regions = classRegions(table);
  const limits = table.classes
    .flatMap(({ from, to }) => [from, to])
    .flatMap((text) => (text === null ? [] : limitOf("limit", text)));

  it("say of every value what classify says: limits, just beside them, anywhere", () => {
    const nudged = limits.flatMap((limit) => [limit, limit.plus("1e-20"), limit.minus("1e-20")]);
    for (const value of nudged) expect(lookedUp(value, regions)).toBe(wordsOf(classify(value, table)));
    fc.assert(
      fc.property(fc.double({ min: -5, max: 300, noNaN: true }), (number) => {
        const value = decimal(String(number));
        expect(lookedUp(value, regions)).toBe(wordsOf(classify(value, table)));
      }),
    );
  });

  it("rise, and no two neighbours say the same", () => {
    regions.forEach((region, index) => {
      const before = regions[index - 1];
      expect(region.words).not.toBe(before?.words);
      if (!before?.from || !region.from) return;
      const order = region.from.comparedTo(before.from);
      expect(order > 0 || (order === 0 && region.opens && !before.opens)).toBe(true);
    });
  });
});

it("shared limits stand between their neighbours", () => {
  expect(
    classRegions(POLLEN_SHAPE_CLASSES)
      .map(({ words }) => words)
      .slice(1, 4),
  ).toEqual(["peroblate", "oblate", "on the limit between oblate and suboblate"]);
});
