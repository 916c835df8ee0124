import fc from "fast-check";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import type { TrainTrend } from "#core/contract/records/trend.ts";
import { TrendChart } from "#renderer/charts/TrendChart.tsx";
import { PLOT, spreadLabels, trendLayout } from "#renderer/charts/trend-layout.ts";
import { dayOf, eventLetter, trendModel } from "#renderer/charts/trend-model.ts";
import { densePaths, errorBarPath, markPaths } from "#renderer/charts/trend-paths.ts";
import { actOfKey, viewAfter, visibleRange, wholeSpan, wholeView } from "#renderer/charts/trend-view.ts";
import { chartSummary, pointWords } from "#renderer/screens/trends/trend-words.ts";

/** Ten daily values about 10 with the limits that go with them; invented inputs. */
function trendOf(count = 10): TrainTrend {
  const dates = Array.from({ length: count }, (_, at) =>
    new Date(Date.UTC(2026, 0, 1) + at * 86_400_000).toISOString().slice(0, 10),
  );
  const text = (value: number) => value.toFixed(4) as TrainTrend["nominalFactor"];
  return {
    trainId: "train",
    nominalFactor: text(10.02),
    reference: text(10),
    tolerance: { percent: text(2), origin: "Proposal." },
    points: dates.map((date, at) => ({
      calibrationId: `c-${at}`,
      state: "superseded",
      at: `${date}T09:00:00.000Z`,
      date,
      factor: text(10 + (at % 3) * 0.01),
      expandedUncertainty: text(0.02),
      shownFactor: (10 + (at % 3) * 0.01).toFixed(3),
      shownUncertainty: "0.020",
      personId: at % 2 === 0 ? "p-1" : "p-2",
      person: at % 2 === 0 ? "Ada Example" : "Ben Example",
      stageMicrometerId: "m-1",
      micrometer: "SM 1 (4711)",
      certificate: "C-1",
      baseline: 0,
      counts: at !== 3,
      normalisedError: at === 0 ? null : text(0.25),
      normalisedErrorApart: at === 0 ? null : text(0.25),
      agreement: at === 0 ? null : "agrees",
      level: at === 5 ? "action" : "within",
      signals:
        at === 5 ? [{ rule: "T1", weight: "signal", points: [5], words: "T1: one value beyond 3σ" }] : [],
    })),
    baselines: [
      {
        begunBy: null,
        from: dates[0] ?? "",
        to: dates.at(-1) ?? "",
        kind: "preliminary",
        rule: "preliminary",
        n: count,
        centre: text(10.01),
        warning: { lower: text(9.99), upper: text(10.03) },
        action: { lower: text(9.98), upper: text(10.04) },
        slopePerDay: null,
      },
    ],
    events: [{ date: dates[4] ?? "", kind: "event", words: "a service", breaks: true }],
    checks: [],
    steps: [],
    drift: null,
    standing: { kind: "steady", why: "10 calibrations." },
    advice: { usualDays: 1, methods: [], proposedDays: null, proposedDue: null, reason: "" },
    dueOn: null,
    asOf: dates.at(-1) ?? "",
  };
}

describe("the view", () => {
  const model = trendModel(trendOf(), "factor");

  it("steps from point to point and stops at the ends", () => {
    let view = wholeView(model);
    expect(view.current).toBe(9);
    view = viewAfter(model, view, { act: "step", by: 1 });
    expect(view.current).toBe(9);
    view = viewAfter(model, view, { act: "end", which: "first" });
    expect(view.current).toBe(0);
    expect(viewAfter(model, view, { act: "step", by: -1 }).current).toBe(0);
  });

  it("never leaves the history and always holds the point read out, whatever is pressed", () => {
    const long = trendModel(trendOf(200), "factor");
    const keys = ["ArrowLeft", "ArrowRight", "PageUp", "PageDown", "Home", "End", "+", "-", "0"];
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...keys), fc.boolean()), { maxLength: 40 }),
        (pressed) => {
          const [first, last] = wholeSpan(long);
          let view = wholeView(long);
          for (const [key, shift] of pressed) {
            const act = actOfKey(key, shift);
            if (!act) continue;
            view = viewAfter(long, view, act);
            expect(view.to - view.from).toBeGreaterThan(0);
            expect(view.to - view.from).toBeLessThanOrEqual(last - first + 1e-6);
            const day = long.days[view.current] ?? Number.NaN;
            if (act.act === "step" || act.act === "end") {
              expect(day >= view.from - 1e-6 && day <= view.to + 1e-6).toBe(true);
            }
          }
        },
      ),
    );
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
});

describe("the drawing", () => {
  const model = trendModel(trendOf(), "factor");
  const layout = trendLayout(model, wholeView(model), 960, true);

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
    const wide = trendLayout(many, wholeView(many), 960, false);
    const { bars, dots } = densePaths(many, wide.range, wide.x, wide.y, PLOT.top);
    const columns = bars.match(/M/g)?.length ?? 0;
    expect(columns).toBeLessThanOrEqual(480);
    expect(columns).toBeGreaterThan(300);
    expect(dots).toContain(` ${Math.round(wide.y(10.02))}h0`);
    expect(dots).toContain(` ${Math.round(wide.y(10))}h0`);
  });

  it("speaks the point and needs no inline style", () => {
    const trend = trendOf();
    const markup = renderToStaticMarkup(
      <TrendChart
        model={model}
        title="Factor over time"
        summary={chartSummary(trend)}
        withTolerance
        pointWords={(place) => pointWords(trend, place)}
        onOpen={() => undefined}
      />,
    );
    expect(markup).toContain("2026-01-10: 10.000 ± 0.020 µm/div (0.00 %), Ben Example, SM 1 (4711)");
    expect(markup).toContain(">T1<");
    expect(markup).not.toMatch(/ style="|NaN/);
    expect(pointWords(trend, 5)).toContain("beyond the limits");
    expect(pointWords(trend, 5)).toContain("T1: one value beyond 3σ");
    expect(pointWords(trend, 3)).toContain("left out");
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
});
