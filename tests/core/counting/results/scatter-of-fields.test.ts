import { describe, expect, it } from "vitest";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import {
  fitWords,
  objectsPerField,
  scatterOfFields,
  UNLIKE_POISSON,
} from "#core/counting/results/scatter-of-fields.ts";
import { fieldCounts } from "../../../support/count-data.ts";
import { drawnFields, uniformFrom } from "../../../support/simulated-fields.ts";

const { categories } = UTERMOHL_FIELDS;

describe("the scatter of the fields of a count", () => {
  it("is that of the objects of the total, in fields counted to their end", () => {
    const fields = fieldCounts([{ diatoms: 3, greens: 1, doubtful: 9 }, { diatoms: 2 }, { greens: 4 }]);
    expect(objectsPerField({ categories, lastFieldCounted: true }, fields)).toEqual([4, 2, 4]);
    expect(objectsPerField({ categories, lastFieldCounted: false }, fields)).toEqual([4, 2]);
  });

  // “Student”, Biometrika 5 (1907) 351: yeast cells on 400 squares, sample A; k by moments x̄²/(s² − x̄) = 3.55 from
  // mean 0.6825 and variance 0.8137 (as in the R package HistData, Yeast).
  it("finds the clusters in Student's sample A", () => {
    const counts = [213, 128, 37, 18, 3, 1].flatMap((squares, cells) => Array<number>(squares).fill(cells));
    const found = scatterOfFields(counts);
    expect(found?.negativeBinomial?.simple).toBeCloseTo(0.6825 ** 2 / (0.813728070175439 - 0.6825), 8);
    expect(found?.morisita).toBeCloseTo((400 * (2 * 37 + 6 * 18 + 12 * 3 + 20)) / (273 * 272), 10);
    expect(found?.fit?.p).toBeLessThan(UNLIKE_POISSON);
    expect(fitWords(found?.fit as never)).toContain("unlike Poisson's law");
  });

  it("says what can be said of few fields, halves and nothing", () => {
    expect(scatterOfFields([4])).toBeNull();
    expect(scatterOfFields([0, 0, 0])).toEqual({ morisita: null, negativeBinomial: null, fit: null });
    expect(scatterOfFields([1.5, 0, 6])).toMatchObject({ morisita: null, fit: null });
    expect(scatterOfFields([1.5, 0, 6])?.negativeBinomial?.k).toBeGreaterThan(0);
    expect(scatterOfFields([4, 4, 4])?.negativeBinomial).toBeNull();
    expect(scatterOfFields([1_000_000, 0])?.fit).toBeNull();
  });

  // Nothing wrong: at most 15 of 1000 (three standard deviations above 1 %); strong clusters: nearly always.
  it.each([
    ["random fields", null, 0, 0.018],
    ["clustered fields", 1, 0.85, 1],
  ])("calls %s unlike Poisson as seldom or as often as it should", (_, exponent, least, most) => {
    for (const mean of [1, 3, 8]) {
      const uniform = uniformFrom(mean + 40);
      const trials = 1000;
      let called = 0;
      for (let i = 0; i < trials; i += 1) {
        const fit = scatterOfFields(drawnFields({ mean, exponent }, mean === 1 ? 200 : 50, uniform))?.fit;
        if (fit && fit.p < UNLIKE_POISSON) called += 1;
      }
      expect(called / trials).toBeGreaterThanOrEqual(least);
      expect(called / trials).toBeLessThanOrEqual(most);
    }
  });
});
