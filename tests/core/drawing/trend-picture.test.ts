// @vitest-environment jsdom
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TrainTrend } from "#core/contract/records/trend.ts";
import { wordsInLines } from "#core/drawing/lines-of-words.ts";
import type { TextMark } from "#core/drawing/mark.ts";
import { PATH_STYLES } from "#core/drawing/print-looks.ts";
import { svgDocument, xmlText } from "#core/drawing/svg-text.ts";
import { pointTexts } from "#core/drawing/trend-labels.ts";
import { PLOT, trendLayout } from "#core/drawing/trend-layout.ts";
import { trendLegend } from "#core/drawing/trend-legend.ts";
import { type TrendModel, trendModel } from "#core/drawing/trend-model.ts";
import { trendPicture } from "#core/drawing/trend-picture.ts";
import { wholeSpan } from "#core/drawing/trend-span.ts";
import { trendOf } from "../../support/trend-example.ts";

const WHOLE = { unit: "factor", withTolerance: true, days: null } as const;
const OPTIONS = { view: WHOLE, train: "40×/0.65 on Stand A", programLine: "Linefall 0.0.0", trailHead: null };
const svgOf = (trend: TrainTrend, view: Parameters<typeof trendPicture>[1]["view"] = WHOLE): string =>
  svgDocument(trendPicture(trend, { ...OPTIONS, view }));

/** Read by an XML parser, which stops at whatever is not well formed. */
function parsed(svg: string): Document {
  const document = new DOMParser().parseFromString(svg, "image/svg+xml");
  expect(document.querySelector("parsererror")?.textContent ?? "").toBe("");
  return document;
}
const textsOf = (document: Document): string[] =>
  [...document.querySelectorAll("text")].map((one) => one.textContent ?? "");

describe("the picture of a history", () => {
  it("says by itself what it shows: train, standing, points, signs, events, limits, program", () => {
    const trend = trendOf();
    const document = parsed(svgOf(trend));
    expect(document.documentElement.getAttribute("viewBox")).toMatch(/^0 0 1200 \d+$/);
    expect(document.querySelector("title")?.textContent).toBe("Factor of 40×/0.65 on Stand A over time");
    expect(document.querySelector("desc")?.textContent).toContain(
      "10 calibrations from 2026-01-01 to 2026-01-10",
    );
    const texts = textsOf(document);
    expect(texts).toContain("Factor of 40×/0.65 on Stand A over time");
    expect(texts).toContain("steady: 10 calibrations.");
    expect(texts).toContain("factor, µm/div");
    expect(texts).toContain("Ada Example with SM 1 (4711)");
    expect(texts).toContain("A  2026-01-05: a service; a new baseline begins");
    expect(texts).toContain("T1");
    expect(texts.at(-1)).toContain("by Linefall 0.0.0.");
    for (const { words } of trendLegend(trendModel(trend, "factor"))) expect(texts).toContain(words);
    // Five circles of the one person, four squares of the other; the value left out is a cross.
    const filled = [...document.querySelectorAll('path[fill="#1a1712"]')].map(
      (one) => one.getAttribute("d") ?? "",
    );
    expect(filled.map((d) => d.match(/M/g)?.length)).toEqual([5, 4, 1, 1]);
  });

  it("draws the part that is asked for, in the unit that is asked for", () => {
    const days = { from: "2026-01-03", to: "2026-01-06" };
    const texts = textsOf(parsed(svgOf(trendOf(), { unit: "percent", withTolerance: false, days })));
    expect(texts).toContain("change from the baseline’s first factor, %");
    expect(texts.at(-1)).toContain("4 of 10 calibrations, 2026-01-03 to 2026-01-06.");
    expect(texts).not.toContain("tolerance");
  });

  it("needs nothing beside itself", () => {
    const document = parsed(svgOf(trendOf(200)));
    const elements = [...document.querySelectorAll("*")];
    expect(
      elements.filter(({ tagName }) => /script|style|image|use|foreignObject|^a$/.test(tagName)),
    ).toEqual([]);
    const values = elements.flatMap((one) => [...one.attributes]).filter(({ name }) => name !== "xmlns");
    expect(values.filter(({ name }) => /^on|href|style/.test(name))).toEqual([]);
    const references = values.filter(({ value }) => value.includes("url("));
    expect(references.map(({ value }) => value)).toEqual(["url(#clip-2)"]);
    expect(document.querySelector("#clip-2 > rect")).not.toBeNull();
    expect(values.filter(({ value }) => /NaN|undefined|Infinity/.test(value))).toEqual([]);
  });

  it("of names that look like markup is still a document, and the names are read as typed", () => {
    const trend = trendOf();
    const name = '</text><script>alert(1)</script> & "O\'Neill" ]]>';
    const odd = { ...trend, points: trend.points.map((point) => ({ ...point, person: name })) };
    const document = parsed(svgOf(odd));
    expect(document.querySelector("script")).toBeNull();
    expect(textsOf(document).join(" ")).toContain(`${name} with SM 1 (4711)`);
  });

  it("of any text is a document", () => {
    // Any code units, halves of surrogate pairs and control characters among them.
    const units = fc.array(fc.oneof(fc.integer({ min: 0, max: 0x7f }), fc.integer({ min: 0, max: 0xffff })));
    const texts = fc.sample(units, 200).map((codes) => String.fromCharCode(...codes));
    const lines = texts.map((text) => `<b c="${xmlText(text)}">${xmlText(text)}</b>`);
    const elements = parsed(`<a>${lines.join("")}</a>`).querySelectorAll("*");
    expect(elements.length).toBe(1 + texts.length);
    expect(xmlText("a\u0000b\ud800c\u001bd")).toBe("a\ufffdb\ufffdc\ufffdd");
  });

  it("tells lines apart without colour: by their pattern or their weight", () => {
    const lines = ["toleranceEdge", "nominal", "centre", "warning", "action", "drift", "break"] as const;
    const kinds = lines.map((look) => `${PATH_STYLES[look].dash ?? `solid ${PATH_STYLES[look].width}`}`);
    expect(new Set(kinds).size).toBe(lines.length);
    const marks = (["filled", "hollow", "grey"] as const).map((look) => PATH_STYLES[look].fill);
    expect(new Set(marks).size).toBe(3);
  });
});

describe("texts on the chart", () => {
  /** Boxes of the rules' names, 7 px a letter and 12 px high. */
  const boxOf = ({ words, x, y }: TextMark) => ({
    left: x - words.length * 3.5,
    right: x + words.length * 3.5,
    top: y - 12,
    bottom: y,
  });

  it("of rules at neighbours do not cover each other", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 6, maxLength: 30 }), (fired) => {
        const model: TrendModel = {
          ...trendModel(trendOf(fired.length), "factor"),
          rules: fired.map((fires) => (fires ? "limits" : "")),
        };
        const [from, to] = wholeSpan(model);
        const layout = trendLayout(model, { from, to }, 960, false);
        const boxes = pointTexts(model, layout)
          .filter((mark): mark is TextMark => mark.look === "rule")
          .map(boxOf);
        boxes.forEach((one, at) => {
          for (const other of boxes.slice(0, at)) {
            const covers =
              one.left < other.right &&
              other.left < one.right &&
              one.top < other.bottom &&
              other.top < one.bottom;
            // Where there is no room above, they stand as high as the plot allows.
            expect(covers && Math.min(one.bottom, other.bottom) > PLOT.top).toBe(false);
          }
        });
      }),
    );
  });

  it("are broken between words, and nothing is lost", () => {
    fc.assert(
      fc.property(
        fc.array(fc.stringMatching(/^[a-zµ×]{1,12}$/), { minLength: 1 }),
        fc.integer({ min: 1, max: 60 }),
        (words, room) => {
          const text = words.join(" ");
          const lines = wordsInLines(text, room);
          expect(lines.join("").replaceAll(" ", "")).toBe(words.join(""));
          for (const line of lines)
            expect(line.length).toBeLessThanOrEqual(Math.max(1, Math.floor(room / 0.54)));
        },
      ),
    );
  });
});
