import { describe, expect, it } from "vitest";
import { requireStoppingRule } from "#core/counting/methods/stopping-rule.ts";
import { STOPPING_RULES } from "#core/counting/methods/stopping-rules.ts";
import { type CountingProgress, stoppingState } from "#core/counting/results/stopping-progress.ts";
import type { StoppingRule } from "#core/vocabulary/counting.ts";

function progress(part: Partial<CountingProgress>): CountingProgress {
  return { byClass: {}, marker: 0, fields: [], minutes: 0, ...part };
}

function ruleOf(id: string): StoppingRule {
  const named = STOPPING_RULES.find((entry) => entry.id === id);
  if (!named) throw new Error(`no rule ${id}`);
  return named.rule;
}

const fields = (number: number, each: number) => Array<number>(number).fill(each);

describe("100 fibres and 20 fields, or 100 fields", () => {
  const niosh = ruleOf("niosh-7400-a");

  it.each([
    [100, 20, true],
    [100, 19, false],
    [99.5, 20, false],
    [3, 100, true],
    [0, 99, false],
  ])("%d fibres in %d fields: %s", (fibres, number, met) => {
    expect(stoppingState(niosh, progress({ byClass: { fibres }, fields: fields(number, 0) })).met).toBe(met);
  });

  it("says both ways on that are left", () => {
    const state = stoppingState(niosh, progress({ byClass: { fibres: 63.5 }, fields: fields(12, 5) }));
    expect(state.words).toBe("(63.5 of 100 objects and 12 of 20 fields) or 12 of 100 fields");
    expect(state.missing).toEqual(["36.5 more objects and 8 more fields, or 88 more fields"]);
    expect(state.parts.map((part) => part.met)).toEqual([false, false]);
  });

  it("has nothing missing once met", () => {
    expect(stoppingState(niosh, progress({ fields: fields(100, 0) })).missing).toEqual([]);
  });
});

describe("grains and marker spores", () => {
  it("are both wanted, each on a line of its own", () => {
    const state = stoppingState(
      ruleOf("pollen-500-marker-20"),
      progress({ byClass: { pine: 300, oak: 150 }, marker: 12 }),
    );
    expect(state.missing).toEqual(["50 more objects", "8 more marker spores"]);
  });

  it("are named alone when one is wanted still", () => {
    const state = stoppingState(
      ruleOf("pollen-500-marker-20"),
      progress({ byClass: { pine: 499 }, marker: 19 }),
    );
    expect(state.missing).toEqual(["1 more object", "1 more marker spore"]);
  });

  it("count only the classes named", () => {
    const rule: StoppingRule = { kind: "units", atLeast: 400, classes: ["pine", "oak"] };
    const state = stoppingState(rule, progress({ byClass: { pine: 300, oak: 99, grass: 200 } }));
    expect(state).toMatchObject({ met: false, words: "399 of 400 objects of pine, oak" });
    expect(stoppingState(rule, progress({ byClass: { pine: 400 } })).met).toBe(true);
  });
});

describe("a wanted width", () => {
  const rule: StoppingRule = { kind: "interval", relativeHalfWidth: 0.2, level: 0.95 };

  it("cannot be judged before there are two fields or anything counted", () => {
    expect(stoppingState(rule, progress({ fields: [30] }))).toMatchObject({
      met: false,
      missing: ["at least 2 fields, to see how they differ"],
    });
    expect(stoppingState(rule, progress({ fields: [0, 0, 0] })).met).toBe(false);
    expect(stoppingState(rule, progress({ fields: [4, 5] })).missing).toEqual(["about 93 more objects"]);
    expect(() => requireStoppingRule({ ...rule, relativeHalfWidth: 2 })).not.toThrow();
  });

  it("is reached by the count while fields differ by chance only", () => {
    const even = [7, 5, 9, 6, 8, 4, 7, 10, 6, 8];
    expect(stoppingState(rule, progress({ fields: even }))).toMatchObject({
      met: false,
      missing: ["about 32 more objects"],
    });
    expect(stoppingState(rule, progress({ fields: [...even, ...even] })).met).toBe(true);
  });

  it("is judged by the scatter between fields where they cluster, and asks for fields", () => {
    const state = stoppingState(rule, progress({ fields: [1, 0, 14, 2, 0, 11, 3, 0, 9, 20] }));
    expect(state.words).toBe("± 84.5 %, wanted ± 20 % at 95 %");
    expect(state.missing).toEqual(["about 124 more fields, by the scatter so far"]);
  });
});

describe("minutes", () => {
  it("count like everything else", () => {
    const rule: StoppingRule = { kind: "minutes", atLeast: 30 };
    expect(stoppingState(rule, progress({ minutes: 12 })).missing).toEqual(["18 more minutes"]);
    expect(stoppingState(rule, progress({ minutes: 30 })).met).toBe(true);
  });
});

describe("a rule put together by hand", () => {
  it.each<readonly [StoppingRule, string]>([
    [{ kind: "fields", atLeast: 0 }, "rule.atLeast: must be greater than zero"],
    [{ kind: "units", atLeast: Number.NaN }, "rule.atLeast: must be greater than zero"],
    [{ kind: "units", atLeast: 5, classes: [] }, "rule.classes: must name at least one class"],
    [{ kind: "all", rules: [] }, "rule.rules: must not be empty"],
    [{ kind: "any", rules: [{ kind: "minutes", atLeast: -1 }] }, "rule.rules.0.atLeast: "],
    [{ kind: "interval", relativeHalfWidth: 0, level: 0.95 }, "rule.relativeHalfWidth: "],
    [{ kind: "interval", relativeHalfWidth: 0.1, level: 1 }, "rule.level: "],
    [{ kind: "interval", relativeHalfWidth: 0.1, level: 0 }, "rule.level: "],
  ])("%j is refused at its part", (rule, message) => {
    expect(() => requireStoppingRule(rule)).toThrow(message);
    expect(() => stoppingState(rule, progress({}))).toThrow(message);
  });

  it("is not nested without end", () => {
    const nested = (deep: number): StoppingRule =>
      deep === 0 ? { kind: "fields", atLeast: 1 } : { kind: "all", rules: [nested(deep - 1)] };
    expect(() => requireStoppingRule(nested(4))).not.toThrow();
    expect(() => requireStoppingRule(nested(5))).toThrow("must not be nested more than 5 deep");
  });

  it("is what the program ships, every one with a source", () => {
    for (const named of STOPPING_RULES) {
      expect(() => requireStoppingRule(named.rule)).not.toThrow();
      expect(named.source.length).toBeGreaterThan(10);
    }
  });
});
