import { describe, expect, it } from "vitest";
import { DISTURBANCES, FREE_SLIDES } from "#core/practice/free-slides.ts";
import { FREE_OBJECTIVES, freeOptics, freePlacing, freeTruth, nextStep } from "#core/practice/free-view.ts";
import type { View } from "#core/practice/view/render-view.ts";
import { viewPainter } from "#core/practice/view/view-painter.ts";

describe.each(FREE_OBJECTIVES)("the next step through $objective×", (objective) => {
  const optics = freeOptics(objective);

  it("is focus, then turning, then moving, and ends where a long span can be read", () => {
    const words: string[] = [];
    let placing = { ...freePlacing(objective), xUm: 30_000, yUm: 5_000 };
    for (
      let step = nextStep({ optics, placing }, true);
      step !== null;
      step = nextStep({ optics, placing }, true)
    ) {
      words.push(step.words);
      placing = step.done;
    }
    expect(words.map((one) => one.split(" ")[0])).toEqual(["Focus", "Turn", "Move"]);
    const { span, factorUm } = freeTruth(optics, placing);
    const [first, last] = span ?? [];
    const reach = (last?.divisions ?? 0) - (first?.divisions ?? 0);
    // As long as slide and scale allow, but for a line at either end.
    expect(reach).toBeGreaterThan(Math.min(94, 1000 / factorUm - 1));
    expect(nextStep({ optics, placing }, true)).toBeNull();
  });

  it("is focus alone where specimens lie on the slide", () => {
    const placing = freePlacing(objective);
    expect(nextStep({ optics, placing }, false)?.words).toMatch(/^Focus/);
    expect(nextStep({ optics, placing: { ...placing, outOfFocusUm: 0 } }, false)).toBeNull();
  });

  it("is none where the slide lies well already, a little off in everything", () => {
    let placing = { ...freePlacing(objective), turnedDeg: 0.1, outOfFocusUm: 0 };
    const step = nextStep({ optics, placing }, true);
    if (step) placing = step.done;
    expect(
      nextStep({ optics, placing: { ...placing, xUm: placing.xUm + 1 / objective.objective } }, true),
    ).toBeNull();
  });
});

const RASTER = { width: 363, height: 216, pixelsPerMm: 33, lookAtMm: [0, 0] } as const;
const OPTICS = freeOptics(FREE_OBJECTIVES[2]);
const PLACING = { xUm: 0, yUm: 0, turnedDeg: 0, outOfFocusUm: 0, tilt: 0 };
const pictureOf = (view: View): string => viewPainter()(view, RASTER, 0).join();

it("the slides of the free view all look different, and the mount shows every kind of outline", () => {
  const pictures = FREE_SLIDES.map(({ shows }) => pictureOf({ ...shows, optics: OPTICS, placing: PLACING }));
  expect(new Set(pictures).size).toBe(FREE_SLIDES.length);
  const kinds = (FREE_SLIDES[1]?.shows.specimens ?? []).map(({ outline }) => outline.kind);
  expect(new Set(kinds)).toEqual(new Set(["ellipse", "spore", "valve", "rod", "debris"]));
});

it("each thing that spoils the view changes its picture", () => {
  const pictures = DISTURBANCES.map(({ of }) => {
    const { optics, placing } = of(OPTICS);
    return pictureOf({
      ...FREE_SLIDES[0].shows,
      optics,
      placing: { ...PLACING, xUm: -235, yUm: -35, ...placing },
    });
  });
  expect(new Set(pictures).size).toBe(DISTURBANCES.length);
});
