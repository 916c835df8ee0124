import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateTicks, PLOT, spreadLabels, trendLayout } from "#core/drawing/trend-layout.ts";
import { dayOf, eventLetter, type TrendModel, trendModel } from "#core/drawing/trend-model.ts";
import { densePaths, errorBarPath, markPaths } from "#core/drawing/trend-paths.ts";
import { visibleRange, wholeSpan } from "#core/drawing/trend-span.ts";
import { dateOfDay } from "#core/trends/civil-day.ts";
import { trendOf } from "../../support/trend-example.ts";

function whole(model: TrendModel) {
  const [from, to] = wholeSpan(model);
  return { from, to };
}

describe("the drawing", () => {
  const model = trendModel(trendOf(), "factor");
  const layout = trendLayout(model, whole(model), 960, true);

  it("puts points and limits where their numbers are", () => {
    const [low, high] = layout.span;
    const [bottom, top] = [layout.y(low), layout.y(high)];
    const share = (10.01 - low) / (high - low);
    expect(layout.y(10.01)).toBeCloseTo(bottom + share * (top - bottom), 6);
    expect(model.baselines[0]?.action.map(({ from }) => from)).toEqual([9.98, 10.04]);
    expect(model.tolerance?.lower).toBeCloseTo(9.8, 12);
    expect(errorBarPath(model, layout.range, layout.x, layout.y).match(/V/g)).toHaveLength(10);
    // One path for each person; the value left out is in neither.
    const marks = markPaths(model, layout.range, layout.x, layout.y);
    expect(marks.map((path) => path.match(/M/g)?.length)).toEqual([5, 4]);
    expect(model.kinds.map(({ person, shape }) => [person, shape])).toEqual([
      ["Ada Example", 0],
      ["Ben Example", 1],
    ]);
  });

  it("in per cent is the same picture about the reference", () => {
    const percent = trendModel(trendOf(), "percent");
    expect(percent.values[1]).toBeCloseTo(0.1, 9);
    expect(percent.halves[1]).toBeCloseTo(0.2, 9);
    expect(percent.tolerance?.upper).toBeCloseTo(2, 9);
    expect(percent.nominal).toBeCloseTo(0.2, 9);
  });

  it("of thousands keeps the lowest and highest of each column of pixels", () => {
    const many = trendModel(trendOf(3000), "factor");
    const wide = trendLayout(many, whole(many), 960, false);
    const { bars, dots } = densePaths(many, wide.range, wide.x, wide.y, PLOT.top);
    const columns = bars.match(/M/g)?.length ?? 0;
    expect(columns).toBeLessThanOrEqual(480);
    expect(columns).toBeGreaterThan(300);
    expect(dots).toContain(` ${Math.round(wide.y(10.02))}h0`);
    expect(dots).toContain(` ${Math.round(wide.y(10))}h0`);
  });

  it("keeps labels apart and inside", () => {
    const labels = [100, 101, 102, 395].map((at) => ({ words: String(at), at }));
    const places = spreadLabels(labels, 15, 400).map(({ y }) => y);
    expect(places).toEqual([100, 115, 130, 395]);
    expect(
      spreadLabels(
        [
          { words: "a", at: 399 },
          { words: "b", at: 400 },
        ],
        15,
        400,
      ).map(({ y }) => y),
    ).toEqual([385, 400]);
  });

  it("letters events A to Z and on, and counts days as the calendar does", () => {
    expect([0, 25, 26, 27, 52].map(eventLetter)).toEqual(["A", "Z", "AA", "AB", "BA"]);
    expect(dayOf("1970-01-02")).toBe(1);
  });

  it("finds the points in view like a search one by one", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 50 })),
        fc.integer(),
        fc.nat(60),
        (days, from, width) => {
          const rising = Float64Array.from(days).sort();
          const [first, after] = visibleRange(rising, from % 50, (from % 50) + width);
          const inside = [...rising].filter((day) => day >= from % 50 && day <= (from % 50) + width);
          expect([...rising.slice(first, after)]).toEqual(inside);
        },
      ),
    );
  });

  it("names dates that lie on the axis, no more than there is room for, none twice", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 30_000 }),
        fc.integer({ min: 10, max: 20_000 }),
        fc.integer({ min: 3, max: 15 }),
        (from, width, most) => {
          const ticks = dateTicks(from, from + width, most);
          expect(ticks.length).toBeLessThanOrEqual(most);
          expect(ticks.every(({ day }) => day >= from && day <= from + width)).toBe(true);
          expect(new Set(ticks.map(({ words }) => words)).size).toBe(ticks.length);
          for (const { day, words } of ticks) expect(dateOfDay(day).startsWith(words)).toBe(true);
        },
      ),
    );
  });
});
