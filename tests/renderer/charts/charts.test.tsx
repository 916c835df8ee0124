// @vitest-environment jsdom
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { ResidualPlot } from "#renderer/charts/ResidualPlot.tsx";
import { evenDomain } from "#renderer/charts/residual-domain.ts";
import { ScalesDrawing } from "#renderer/charts/ScalesDrawing.tsx";

describe("the drawings", () => {
  it("the scales are drawn to scale: line 100 of 1 mm stands where division 97 stands", () => {
    const markup = renderToStaticMarkup(
      <ScalesDrawing
        reticleDivisions={100}
        micrometerDivisions={100}
        match={{ reticleLeft: 0, lineLeft: 0, divisionsPerLine: 0.97 }}
        isRead
        marks={[{ division: 97, line: 100 }]}
        tolerance={0.004}
        words="in words"
      />,
    );
    const box = document.createElement("div");
    box.innerHTML = markup;
    const starts = [...box.querySelectorAll("path")].map((path) =>
      [...(path.getAttribute("d") ?? "").matchAll(/M([\d.]+) /g)].map((match) => Number(match[1])),
    );
    const [reticle = [], , micrometer = [], coincident = []] = starts;
    expect(reticle).toHaveLength(101);
    expect(micrometer[100]).toBeCloseTo(reticle[97] ?? Number.NaN, 1);
    expect(coincident).toHaveLength(2);
    expect(box.querySelector("desc")?.textContent).toBe("in words");
    expect(markup).not.toMatch(/ style="/);
  });

  it("residuals are read out with their settings", () => {
    const markup = renderToStaticMarkup(
      <ResidualPlot
        residuals={[
          { setting: 1, span: 97, residual: 0.067 },
          { setting: 3, span: 49, residual: -0.071 },
        ]}
        reticleDivisions={100}
        band={0.1}
      />,
    );
    expect(markup).toContain("Setting 1: 0.067 divisions. Setting 3: −0.071 divisions.");
    expect(markup).not.toMatch(/ style="|NaN/);
  });

  it("the axis is even about zero and never empty", () => {
    expect(evenDomain([], 0.1)).toEqual([-0.1 * 1.15, 0.1 * 1.15]);
    const [low, high] = evenDomain([-2, 1], 0.1);
    expect(-low).toBe(high);
    expect(low).toBeLessThan(-2);
  });
});
