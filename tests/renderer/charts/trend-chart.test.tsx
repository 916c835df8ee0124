import fc from "fast-check";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { trendModel } from "#core/drawing/trend-model.ts";
import { wholeSpan } from "#core/drawing/trend-span.ts";
import { trendSummary } from "#core/drawing/trend-summary.ts";
import { TrendChart } from "#renderer/charts/TrendChart.tsx";
import { actOfKey, viewAfter, wholeView } from "#renderer/charts/trend-view.ts";
import { pointWords } from "#renderer/screens/trends/trend-words.ts";
import { trendOf } from "../../support/trend-example.ts";

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
});

describe("the chart", () => {
  const model = trendModel(trendOf(), "factor");

  it("speaks the point and needs no inline style", () => {
    const trend = trendOf();
    const markup = renderToStaticMarkup(
      <TrendChart
        model={model}
        title="Factor over time"
        summary={trendSummary(trend)}
        withTolerance
        pointWords={(place) => pointWords(trend, place)}
        onOpen={() => undefined}
        onSeen={() => undefined}
      />,
    );
    expect(markup).toContain("2026-01-10: 10.000 ± 0.020 µm/div (0.00 %), Ben Example, SM 1 (4711)");
    expect(markup).toContain(">T1<");
    expect(markup).not.toMatch(/ style="|NaN/);
    expect(pointWords(trend, 5)).toContain("beyond the limits");
    expect(pointWords(trend, 5)).toContain("T1: one value beyond 3σ");
    expect(pointWords(trend, 3)).toContain("left out");
  });
});
