import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CountInputs, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { CountResults } from "#core/contract/records/count-results.ts";
import { inputsAskedBy } from "#core/counting/inputs/count-inputs.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import { needsFactor } from "#core/counting/inputs/field-area.ts";
import { replayEvents } from "#core/counting/inputs/field-counts.ts";
import { requireCountMethod } from "#core/counting/methods/count-method-check.ts";
import { FIBRES_ON_FILTER, HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { READY_COUNT_METHODS } from "#core/counting/methods/ready-count-methods.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { HONEY_CLASSES, POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { recountReport } from "#core/counting/recounts/recount-report.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { areaFactor, countData, fieldCounts, spread } from "../../../support/count-data.ts";

const EVEN = [7, 5, 9, 6, 8, 4, 7, 10, 6, 8];
const CLUMPED = [1, 0, 14, 2, 0, 11, 3, 0, 9, 20];
const diatoms = (counts: readonly number[]) => fieldCounts(counts.map((count) => ({ diatoms: count })));

describe("the methods offered", () => {
  it.each(READY_COUNT_METHODS.map(({ id, definition }) => [id, definition] as const))(
    "%s is whole, says where it comes from and asks for inputs by name",
    (_, definition) => {
      expect(CountMethodDefinition.parse(structuredClone(definition))).toEqual(definition);
      requireCountMethod(definition);
      expect(definition.source.length).toBeGreaterThan(20);
      for (const asked of inputsAskedBy(definition)) expect(asked.name.length).toBeGreaterThan(3);
      expect(definition.categories.filter((one) => one.kind === "doubtful")).toHaveLength(1);
      for (const { keyCode } of definition.categories) expect(keyCode).toMatch(/^Numpad(\d|Decimal)$/);
    },
  );

  it("say that fibre counts belong to accredited laboratories", () => {
    expect(FIBRES_ON_FILTER.cautions.join(" ")).toContain("accredited");
  });

  it("have ids of their own", () => {
    expect(new Set(READY_COUNT_METHODS.map((one) => one.id)).size).toBe(READY_COUNT_METHODS.length);
  });
});

describe("a method put together by a person", () => {
  it.each<[string, Partial<CountMethodDefinition>, RegExp]>([
    [
      "two categories of one key",
      {
        categories: [
          { key: "a", name: "A", keyCode: "Numpad1", kind: "object", halves: false },
          { key: "a", name: "B", keyCode: "Numpad2", kind: "object", halves: false },
        ],
      },
      /^categories\.1\.key/,
    ],
    [
      "two categories under one key of the board",
      {
        categories: [
          { key: "a", name: "A", keyCode: "Numpad1", kind: "object", halves: false },
          { key: "b", name: "B", keyCode: "Numpad1", kind: "object", halves: false },
        ],
      },
      /^categories\.1\.keyCode.*A/,
    ],
    [
      "nothing to count",
      { categories: [{ key: "a", name: "A", keyCode: "Numpad1", kind: "doubtful", halves: false }] },
      /^categories: needs/,
    ],
    [
      "an area without fields for a filter",
      { density: FIBRES_ON_FILTER.density, area: { kind: "whole" } },
      /^area/,
    ],
    [
      "a square the chamber has not",
      { density: UTERMOHL_FIELDS.density, area: { kind: "chamber-square", square: "large" } },
      /^area/,
    ],
    [
      "a chamber nobody knows",
      { density: { kind: "chamber", chamber: { from: "library", chamberId: "x" } } },
      /^chamber/,
    ],
    [
      "a rule about a class that is not there",
      { stopping: { ...HAEMOCYTOMETER.stopping, rule: { kind: "units", atLeast: 5, classes: ["yeast"] } } },
      /^stopping\.rule/,
    ],
    ["an input that is no number", { suggestedInputs: { dilution: "ten" } }, /^dilution/],
    ["a precision of nothing", { wantedPrecision: "0" }, /^wantedPrecision/],
    ["an edge rule nobody knows", { edgeRuleId: "all-in" }, /^edgeRuleId/],
    [
      "marker spores without a category",
      { density: POLLEN_MARKER.density, area: { kind: "none" } },
      /^categories/,
    ],
  ])("is refused with %s", (_, change, words) => {
    expect(() => requireCountMethod({ ...HAEMOCYTOMETER, ...change })).toThrow(words);
  });
});

describe("what a count says", () => {
  const even = countResults(countData(UTERMOHL_FIELDS, diatoms(EVEN), { side: "25" }, areaFactor("10.1")));
  const clumped = countResults(
    countData(UTERMOHL_FIELDS, diatoms(CLUMPED), { side: "25" }, areaFactor("10.1")),
  );

  it("even fields: χ² 4.2857, no clusters; half-width between fields 18.658 % (computed here, scipy 1.16 agrees)", () => {
    expect(even.dispersion).toMatchObject({ verdict: "random", degreesOfFreedom: 9 });
    expect(even.dispersion?.index).toBeCloseTo(4.285714285714286, 10);
    expect(even.betweenFields?.relative).toBeCloseTo(1.306057046890784 / 7, 10);
    expect(even.poissonSuppressed).toBe(false);
  });

  it("clumped fields: the shortcut says 25.8 %, the fields 84.5 %, and the density goes by the fields", () => {
    expect(clumped.dispersion?.verdict).toBe("clustered");
    expect(clumped.shortcut).toBeCloseTo(2 / Math.sqrt(60), 10);
    // T·exp(t·s√n/T·√(n/(n − 1))) above, computed here and in Python; ± is not said of limits so uneven.
    expect(clumped.betweenFields).toMatchObject({ relative: null });
    expect(clumped.betweenFields?.lower).toBeCloseTo(60 - 50.69565479076584, 8);
    expect(clumped.betweenFields?.upper).toBeCloseTo(146.20012938348586, 8);
    expect(clumped.densities[0]?.shown).toMatch(/\(95 %: .* to .*\/mL\)$/);
    expect(clumped.cautions.join(" ")).toContain("in about 86 of 100 counts, not in 95");
    expect(clumped.poissonSuppressed).toBe(true);
    expect(clumped.densities[0]?.basis).toBe("between-fields");
    expect(even.densities[0]?.basis).toBe("poisson");
  });

  it("135 of 300 grains is 45 % and so secondary, 136 predominant (Louveaux et al. 1978: predominant above 45 %)", () => {
    const share = (brassica: number) =>
      countResults(countData(HONEY_CLASSES, fieldCounts([{ brassica, tilia: 300 - brassica, honeydew: 40 }])))
        .categories[0]?.share;
    expect(share(135)).toMatchObject({ proportion: 0.45, class: "secondary" });
    // Wilson limits of 135/300, computed by the formula of Newcombe (1998), method 3, with z = 1.96.
    expect(share(135)?.lower).toBeCloseTo(0.3946889, 5);
    expect(share(135)?.upper).toBeCloseTo(0.5065754, 5);
    expect(share(136)?.class).toBe("predominant");
    expect(share(47)?.class).toBe("between important minor and secondary: the source names no class here");
  });

  it("leaves the field in hand out of the density but not out of the stopping rule", () => {
    const data = countData(UTERMOHL_FIELDS, diatoms([10, 12, 378]), { side: "25" }, areaFactor("10.1"));
    const { total, fields, inHand, stopping, cautions } = countResults({
      ...data,
      lastFieldCounted: false,
    });
    expect({ total, fields, inHand }).toEqual({ total: "22", fields: 2, inHand: "378" });
    expect(stopping).toMatchObject({ met: true, words: "400 of 400 objects" });
    expect(cautions.join(" ")).toContain("378 objects lie in a field that is not finished");
    const one = countData(UTERMOHL_FIELDS, diatoms([10, 1]), { side: "25" }, areaFactor("10.1"));
    expect(countResults({ ...one, lastFieldCounted: false }).cautions.join(" ")).toContain(
      "1 object lies in a field that is not finished",
    );
  });

  it("says what is missing in words instead of a density", () => {
    const missing = (inputs: CountInputs, factor = true, done = true) =>
      countResults({
        ...countData(UTERMOHL_FIELDS, diatoms([3]), inputs, factor ? areaFactor("10") : null),
        lastFieldCounted: done,
      }).missing;
    expect(missing({ side: "" })).toBe("There is no density yet: side of the grid square is missing.");
    expect(missing({ side: "25" }, false)).toContain("No factor is frozen");
    expect(missing({ side: "25" }, true, false)).toContain("press the new-field key");
    expect(missing({ side: "25", settledVolume: "x" })).toContain("volume settled has a character");
  });

  it("warns of few marker spores and of colonies", () => {
    const pollen = countResults(
      countData(POLLEN_MARKER, fieldCounts([{ betula: 500, marker: 19 }]), {
        sporesPerTablet: "18583",
        sampleSize: "1",
      }),
    );
    expect(pollen.cautions.join(" ")).toContain("Only 19 marker spores");
    expect(pollen.stopping).toMatchObject({ met: false, missing: ["1 more marker spore"] });
    const colony = [{ counts: { diatoms: textOfDecimal(decimal(8)) }, presses: { diatoms: 1 } }];
    const { cautions } = countResults(countData(UTERMOHL_FIELDS, colony, { side: "25" }, areaFactor("10")));
    expect(cautions.join(" ")).toContain("colonies");
  });

  it("takes halves: 3.5 of 7 grains is a half", () => {
    const { categories, total } = countResults(
      countData(POLLEN_MARKER, fieldCounts([{ pinus: 3.5, betula: 3.5, doubtful: 2 }])),
    );
    expect(total).toBe("7");
    expect(categories[0]?.share?.proportion).toBe(0.5);
    expect(categories.find((one) => one.category === "doubtful")).toMatchObject({ count: "2", share: null });
  });

  it("takes lengths in units: 0.1 and 0.2 are 0.3, and it says that units are no objects", () => {
    const categories = POLLEN_MARKER.categories.map((one) =>
      one.key === "betula" ? { ...one, decimals: true as const } : one,
    );
    const data = countData(
      { ...POLLEN_MARKER, categories },
      fieldCounts([{ betula: 0.1, pinus: 1.5 }, { betula: 0.2 }, { betula: 2.4 }]),
    );
    const { total, categories: found, cautions } = countResults(data);
    expect(total).toBe("4.2");
    expect(found.find(({ category }) => category === "betula")?.count).toBe("2.7");
    expect(cautions.join(" ")).toContain("counted in decimal units, which are no separate objects");
    expect(cautions.join(" ")).not.toContain("colonies");
  });

  it("is plain data whatever was counted under whatever method", () => {
    const method = fc.constantFrom(...READY_COUNT_METHODS.map((one) => one.definition));
    const counts = fc.array(fc.array(fc.integer({ min: 0, max: 9 }), { maxLength: 11 }), {
      minLength: 1,
      maxLength: 8,
    });
    const number = fc.constantFrom("", "0", "1", "2.5", "100", "0.01", "no");
    fc.assert(
      fc.property(method, counts, number, fc.boolean(), (definition, cells, typed, last) => {
        const inputs = Object.fromEntries(inputsAskedBy(definition).map((one) => [one.key, typed]));
        const fields = fieldCounts(
          cells.map((row) =>
            Object.fromEntries(row.map((n, i) => [definition.categories[i]?.key ?? "doubtful", n])),
          ),
        );
        const data = countData(
          definition,
          fields,
          inputs,
          needsFactor(definition) ? areaFactor("9.9") : null,
        );
        const results = countResults({ ...data, lastFieldCounted: last });
        expect(CountResults.parse(JSON.parse(JSON.stringify(results)))).toEqual(results);
        const wanted = definition.density.kind !== "none";
        expect(results.densities.length > 0 || results.missing !== null).toBe(wanted);
      }),
      { numRuns: 300 },
    );
  });
});

type ReplayedEvent = Parameters<typeof replayEvents>[0] extends Iterable<infer E> ? E : never;
type Step = { kind: "press"; thousandths: number; category: string } | { kind: "field" } | { kind: "undo" };
interface Standing {
  readonly sequence: number;
  readonly kind: "press" | "field";
  readonly field: number;
  readonly category: string;
  readonly thousandths: number;
}

/** The plain way to the same counts: a pile from which an undo takes the top. */
class Hand {
  readonly standing: Standing[] = [];
  readonly events: ReplayedEvent[] = [];
  field = 1;

  do(step: Step): void {
    const sequence = this.events.length + 1;
    const plain = { sequence, field: this.field, category: null, weight: null, strikes: null };
    if (step.kind === "press") {
      const { category, thousandths } = step;
      this.events.push({ ...plain, kind: "press", category, weight: textOfThousandths(thousandths) });
      this.standing.push({ sequence, kind: "press", field: this.field, category, thousandths });
    } else if (step.kind === "field") {
      this.field += 1;
      this.events.push({ ...plain, kind: "field", field: this.field });
      this.standing.push({ sequence, kind: "field", field: this.field, category: "", thousandths: 0 });
    } else this.undo(plain);
  }

  undo(plain: Omit<ReplayedEvent, "kind">): void {
    const last = this.standing.pop();
    if (!last) return;
    if (last.kind === "field") this.field -= 1;
    this.events.push({ ...plain, kind: "undo", strikes: last.sequence });
  }
}

describe("a replayed sequence", () => {
  const step: fc.Arbitrary<Step> = fc.oneof(
    {
      weight: 8,
      arbitrary: fc.record({
        kind: fc.constant("press" as const),
        thousandths: fc.integer({ min: 1, max: 20_000 }),
        category: fc.constantFrom("a", "b"),
      }),
    },
    { weight: 2, arbitrary: fc.record({ kind: fc.constant("field" as const) }) },
    { weight: 3, arbitrary: fc.record({ kind: fc.constant("undo" as const) }) },
  );

  it("has the counts of its standing presses, in the field each was made in", () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const hand = new Hand();
        for (const one of steps) hand.do(one);
        const { fields, currentField } = replayEvents(hand.events);
        expect(currentField).toBe(hand.field);
        for (let n = 1; n <= 60; n += 1) {
          for (const category of ["a", "b"]) {
            const want = hand.standing.filter((one) => one.field === n && one.category === category);
            const cell = fields.get(n)?.get(category);
            expect(cell?.presses ?? 0).toBe(want.length);
            expect(cell?.thousandths ?? 0).toBe(want.reduce((sum, one) => sum + one.thousandths, 0));
          }
        }
      }),
    );
  });
});

describe("a recount", () => {
  const categories = FIBRES_ON_FILTER.categories;
  const report = (first: number, second: number) =>
    recountReport({
      categories,
      first: { fields: 1, byCategory: { fibre: first } },
      second: { fields: 1, byCategory: { fibre: second } },
      intracounterDeviation: decimal("0.12"),
      sameCounter: true,
    });

  it("180 and 150 pass, 260 and 150 do not, at S_r 0.12 (NIOSH 7400 quality control step 13, from memory)", () => {
    expect(report(180, 150).acceptance?.accepted).toBe(true);
    expect(Number(report(180, 150).acceptance?.difference)).toBeCloseTo(1.1689591510828485, 12);
    expect(Number(report(180, 150).acceptance?.limit)).toBeCloseTo(2.1326664817078056, 12);
    const rejected = report(260, 150);
    expect(rejected.acceptance?.accepted).toBe(false);
    expect(Number(rejected.acceptance?.limit)).toBeCloseTo(2.3577102258936296, 12);
    expect(rejected.words).toContain("rejected");
  });

  it("does not depend on whether objects are told per field or per mm²", () => {
    const per = (fields: number) =>
      recountReport({
        categories,
        first: { fields, byCategory: { fibre: 260 } },
        second: { fields, byCategory: { fibre: 150 } },
        intracounterDeviation: decimal("0.12"),
        sameCounter: false,
      }).acceptance?.accepted;
    expect(per(1)).toBe(per(100));
  });

  it("compares each category, and says nothing exact of halves", () => {
    const { comparisons } = report(180.5, 150);
    expect(comparisons[0]).toMatchObject({ of: "total", p: null, differs: null });
    expect(comparisons.map((one) => one.of)).toEqual(["total", ...categories.map((one) => one.key)]);
    expect(spread(7, 3, "fibre")).toHaveLength(3);
  });
});
