import { describe, expect, it } from "vitest";
import type { CountMethodDefinition, DensityLimit } from "#core/contract/records/count-method.ts";
import { decisionWords, densityDecisions } from "#core/counting/densities/density-decisions.ts";
import { requireCountMethod } from "#core/counting/methods/count-method-check.ts";
import { PARTICLES_PER_CONTAINER, PARTICLES_PER_ML } from "#core/counting/methods/ready-particle-methods.ts";
import { HONEY_CLASSES } from "#core/counting/methods/ready-pollen-methods.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { areaFactor, countData, fieldCounts } from "../../../support/count-data.ts";
import { drawnFields, uniformFrom } from "../../../support/simulated-fields.ts";

type Fields = readonly Readonly<Record<string, number>>[];

/** Fields of 1 mm² of a filter of 385 mm², ten containers on it: each particle in ten fields stands for 3.85. */
const FIELD: CountMethodDefinition["area"] = {
  kind: "nominal",
  area: "1",
  source: "invented",
  standing: "own",
};

function resultsOf(definition: CountMethodDefinition, fields: Fields, sampleSize = "10") {
  return countResults(countData(definition, fieldCounts(fields), { sampleSize }, areaFactor("1")));
}

function under(limit: DensityLimit, definition = PARTICLES_PER_CONTAINER): CountMethodDefinition {
  return { ...definition, area: FIELD, densityLimits: [limit] };
}

const limit = (
  upper: string,
  rule: DensityLimit["rule"] = "simple-acceptance",
  of = "total",
): DensityLimit => ({
  of,
  lower: "",
  upper,
  rule,
});

const decided = (definition: CountMethodDefinition, fields: Fields) =>
  densityDecisions(definition, definition.categories, resultsOf(definition, fields))[0];

describe("a density held against its limit", () => {
  // USP <788>, method 2: at most 3000 of 10 µm and 300 of 25 µm per container of 100 mL or less; 12 and 2 per mL above
  // that. From memory.
  it("has the limits of the pharmacopoeia, and a particle of 25 µm belongs to both", () => {
    expect(PARTICLES_PER_CONTAINER.densityLimits?.map(({ upper }) => upper)).toEqual(["3000", "300"]);
    expect(PARTICLES_PER_ML.densityLimits?.map(({ upper }) => upper)).toEqual(["12", "2"]);
    const definition = { ...PARTICLES_PER_CONTAINER, area: FIELD };
    const fields = Array.from({ length: 10 }, () => ({ from_10: 70, from_25: 8 }));
    const [ten, twentyFive] = densityDecisions(
      definition,
      definition.categories,
      resultsOf(definition, fields),
    );
    expect(Number(ten?.density.value)).toBeCloseTo(780 * 3.85, 8);
    expect(ten).toMatchObject({ name: "total", limits: "at most 3000 /container", conforms: false });
    expect(Number(twentyFive?.density.value)).toBeCloseTo(80 * 3.85, 8);
    expect(twentyFive).toMatchObject({ name: "25 µm and more", conforms: false });
  });

  it("conforms at the limit and not above by simple acceptance, and by at least U by guarded acceptance", () => {
    const fields = Array.from({ length: 10 }, () => ({ from_10: 10 }));
    expect(decided(under(limit("385")), fields)?.conforms).toBe(true);
    expect(decided(under(limit("384.9")), fields)?.conforms).toBe(false);
    const guarded = (upper: string) => decided(under(limit(upper, "guarded-acceptance")), fields);
    const { value, expanded, upper } = guarded("1000")?.density ?? {};
    const reach = Math.max(Number(value) + Number(expanded), Number(upper));
    expect(guarded(String(reach + 0.01))?.conforms).toBe(true);
    expect(guarded(String(reach - 0.01))?.conforms).toBe(false);
  });

  it("says a probability where the count is large, and none where it is not normal", () => {
    const many = decided(
      under(limit("385")),
      Array.from({ length: 10 }, () => ({ from_10: 10 })),
    );
    expect(many?.probability).toBe("50.0 %");
    expect(decisionWords(many as never)).toContain("at most 385 /container: conforms by simple acceptance");
    expect(decided(under(limit("385")), [{ from_10: 2 }, {}, { from_10: 1 }])?.probability).toBeNull();
  });

  it("holds nothing counted against the limit of what may still be there", () => {
    const none = Array.from({ length: 10 }, () => ({}));
    const limitOfNone = Number(decided(under(limit("1")), none)?.density.lessThan);
    expect(decided(under(limit("1")), none)?.conforms).toBe(true);
    expect(decided(under(limit("1", "guarded-acceptance")), none)?.conforms).toBe(false);
    const wide = String(Math.ceil(limitOfNone) + 5);
    expect(decided(under(limit(wide, "guarded-acceptance")), none)?.conforms).toBe(true);
  });

  // The true density lies at its limit: guarded acceptance may accept it in at most 2.5 of 100 counts, simple in half.
  it.each([
    ["guarded-acceptance", 0, 0.035],
    ["simple-acceptance", 0.4, 0.65],
  ] as const)("accepts what lies at the limit as seldom as %s should", (rule, least, most) => {
    const definition = under(limit("385", rule));
    const uniform = uniformFrom(11);
    let accepted = 0;
    const trials = 800;
    for (let i = 0; i < trials; i += 1) {
      const fields = drawnFields({ mean: 10, exponent: null }, 10, uniform).map((from_10) => ({ from_10 }));
      if (decided(definition, fields)?.conforms) accepted += 1;
    }
    expect(accepted / trials).toBeGreaterThanOrEqual(least);
    expect(accepted / trials).toBeLessThanOrEqual(most);
  });

  it.each([
    ["no limit on either side", { ...limit(""), of: "total" }, "densityLimits.0.upper"],
    ["a category that has no density", limit("3", "simple-acceptance", "doubtful"), "densityLimits.0.of"],
    ["a limit that is no number", limit("few"), "densityLimits.0.upper"],
    ["an upper limit below the lower", { ...limit("3"), lower: "5" }, "densityLimits.0.upper"],
    ["a limit below nothing", limit("-3"), "densityLimits.0.upper"],
  ] as const)("refuses %s", (_, wrong, field) => {
    expect(() => requireCountMethod(under(wrong))).toThrow(new RegExp(`^${field}: `));
  });

  it("refuses limits where there is no density", () => {
    expect(() => requireCountMethod({ ...HONEY_CLASSES, densityLimits: [limit("3")] })).toThrow(
      /^densityLimits: /,
    );
  });
});
