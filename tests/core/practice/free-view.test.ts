import { describe, expect, it } from "vitest";
import { FREE_OBJECTIVES, freeOptics, freePlacing, freeTruth, nextStep } from "#core/practice/free-view.ts";

describe.each(FREE_OBJECTIVES)("the next step through $objective×", (objective) => {
  const optics = freeOptics(objective);

  it("is focus, then turning, then moving, and ends where a long span can be read", () => {
    const words: string[] = [];
    let placing = { ...freePlacing(objective), xUm: 30_000, yUm: 5_000 };
    for (let step = nextStep(optics, placing); step !== null; step = nextStep(optics, placing)) {
      words.push(step.words);
      placing = step.done;
    }
    expect(words.map((one) => one.split(" ")[0])).toEqual(["Focus", "Turn", "Move"]);
    const { span, factorUm } = freeTruth(optics, placing);
    const [first, last] = span ?? [];
    const reach = (last?.divisions ?? 0) - (first?.divisions ?? 0);
    // As long as slide and scale allow, but for a line at either end.
    expect(reach).toBeGreaterThan(Math.min(94, 1000 / factorUm - 1));
    expect(nextStep(optics, placing)).toBeNull();
  });

  it("is none where the slide lies well already, a little off in everything", () => {
    let placing = { ...freePlacing(objective), turnedDeg: 0.1, outOfFocusUm: 0 };
    const step = nextStep(optics, placing);
    if (step) placing = step.done;
    expect(nextStep(optics, { ...placing, xUm: placing.xUm + 1 / objective.objective })).toBeNull();
  });
});
