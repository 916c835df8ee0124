import fc from "fast-check";
import { chisquare } from "jstat";
import { describe, expect, it } from "vitest";
import type { SizeClasses } from "#core/contract/records/method.ts";
import {
  amountLookedAt,
  amountWords,
  classDecisionWords,
  numberPerAmount,
  plainNumberWords,
  sizeClassResults,
} from "#core/counting/results/size-class-results.ts";
import { readSizeClasses, SizeClassCounter, tallySizes } from "#core/measurement/size-classes.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";

const limits = (...from: readonly string[]) => from.map((one) => ({ from: one, most: "" }));
const sizesOf = (...values: readonly string[]) =>
  values.map((value) => ({ value, expandedUncertainty: "0.5" }));

function problemOf(typed: SizeClasses["limits"]): string {
  try {
    readSizeClasses({ limits: typed, counted: "at-least" });
  } catch (error) {
    if (error instanceof InputError) return `${error.field} ${error.reason}`;
    throw error;
  }
  return "none";
}

describe("own size limits", () => {
  it.each([
    [limits("10", "25"), "none"],
    [limits("25", "10"), "sizeClasses.limits.1.from must be greater than the limit before it"],
    [limits("10", "10"), "sizeClasses.limits.1.from must be greater than the limit before it"],
    [limits("-1"), "sizeClasses.limits.0.from must not be negative"],
    [[{ from: "10", most: "x" }], /^sizeClasses\.limits\.0\.most /],
  ])("%j: %s", (typed, problem) => {
    expect(problemOf(typed)).toMatch(problem);
  });

  it("are named as the class they make", () => {
    const words = (counted: SizeClasses["counted"]) =>
      readSizeClasses({ limits: limits("10", "25"), counted }).map((one) => one.words);
    expect(words("at-least")).toEqual(["≥ 10 µm", "≥ 25 µm"]);
    expect(words("between")).toEqual(["10 to below 25 µm", "≥ 25 µm"]);
  });

  it("take a size on a limit into the class from it on", () => {
    const classes = readSizeClasses({ limits: limits("10", "25"), counted: "between" });
    const counted = (value: string) => tallySizes(classes, sizesOf(value)).map((one) => one.counted);
    expect(counted("9.999")).toEqual([0, 0]);
    expect(counted("10")).toEqual([1, 0]);
    expect(counted("24.999")).toEqual([1, 0]);
    expect(counted("25")).toEqual([0, 1]);
  });

  it("say how many sizes their U could move into another class", () => {
    const classes = readSizeClasses({ limits: limits("10", "25"), counted: "between" });
    const near = (value: string) => tallySizes(classes, sizesOf(value)).map((one) => one.near);
    expect(near("9.4")).toEqual([0, 0]);
    expect(near("9.6")).toEqual([1, 0]);
    // The limit between two classes is one of both.
    expect(near("25.3")).toEqual([1, 1]);
  });

  it("count each size once between limits, and from the smallest limit on as often in all", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 60_000 }), { maxLength: 40 }),
        fc.uniqueArray(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 6 }),
        (thousandths, starts) => {
          const typed = limits(...starts.sort((a, b) => a - b).map(String));
          const counts = (counted: SizeClasses["counted"]): number[] => {
            const counter = new SizeClassCounter(readSizeClasses({ limits: typed, counted }));
            for (const one of thousandths) counter.add(decimal(one).div(1000), decimal(0));
            return counter.tallies().map((one) => one.counted);
          };
          const atLeast = counts("at-least");
          const between = counts("between");
          const sumFrom = (at: number) => between.slice(at).reduce((sum, one) => sum + one, 0);
          expect(atLeast).toEqual(between.map((_, at) => sumFrom(at)));
        },
      ),
    );
  });
});

describe("a number per amount", () => {
  it.each([1, 2, 10, 57, 412])("of %i has the limits that jStat gives for χ²", (counted) => {
    // jStat: a JavaScript statistical library (1.9), jStat.chisquare.inv.
    const { lower, upper } = numberPerAmount(counted, 25);
    expect(lower).toBeCloseTo(chisquare.inv(0.025, 2 * counted) / 2 / 25, 6);
    expect(upper).toBeCloseTo(chisquare.inv(0.975, 2 * counted + 2) / 2 / 25, 6);
  });

  it("of none is less than a limit, rounded up so that it stays true", () => {
    expect(numberPerAmount(0, 10)).toMatchObject({ value: 0, lower: 0 });
    expect(plainNumberWords(numberPerAmount(0, 10))).toBe("< 0.3");
    expect(plainNumberWords(numberPerAmount(0, 25))).toBe("< 0.12");
    expect(plainNumberWords(numberPerAmount(41, 10))).toBe("4.1");
  });

  it("is not given while its basis is not named, and says what is missing", () => {
    expect(amountLookedAt("container", { volume: "25" })).toBeNull();
    expect(amountLookedAt("mL", { volume: "25", portion: "20" })).toBeCloseTo(5, 12);
    expect(amountWords("container", { volume: "25" })).toBe(
      "25 mL tested; the number of containers is not named on the sheet: no number /container can be given",
    );
    expect(amountWords("mL", { containers: "10", volume: "25", portion: "20" })).toBe(
      "10 containers, 25 mL tested, 20 % of it looked at",
    );
    const classes = readSizeClasses({ limits: [{ from: "10", most: "3000" }], counted: "at-least" });
    const rules = { per: "container", rule: "simple-acceptance" } as const;
    const [one] = sizeClassResults(rules, classes, [{ counted: 3, near: 0 }], {});
    expect(one).toMatchObject({ number: null, conforms: null });
    expect(one && classDecisionWords(one, rules, "Length")).toBe(
      "Length ≥ 10 µm, at most 3000 /container: undecided, the number of containers is not named.",
    );
  });

  it("keeps its limit by the rule that is named", () => {
    const classes = readSizeClasses({ limits: [{ from: "10", most: "5" }], counted: "at-least" });
    const conforms = (counted: number, rule: SizeClasses["rule"]) =>
      sizeClassResults({ per: "container", rule }, classes, [{ counted, near: 0 }], { containers: "10" })[0]
        ?.conforms;
    // 50 in 10: exactly at the limit; its upper limit 65.9/10 is above it, that of 35 (48.7/10) is not.
    expect(conforms(50, "simple-acceptance")).toBe(true);
    expect(conforms(51, "simple-acceptance")).toBe(false);
    expect(conforms(50, "guarded-acceptance")).toBe(false);
    expect(conforms(35, "guarded-acceptance")).toBe(true);
    expect(conforms(0, "guarded-acceptance")).toBe(true);
  });

  it("is not missed for a binary number: what is at the limit conforms, whatever the volume and part", () => {
    const upTo = (max: number) => fc.integer({ min: 1, max });
    fc.assert(
      fc.property(upTo(999), upTo(10), upTo(500), (tenths, part, hundreds) => {
        const tested = { volume: decimal(tenths).div(10).toFixed(), portion: String(10 * part) };
        const limit = { from: "10", most: String(100 * hundreds) };
        const classes = readSizeClasses({ limits: [limit], counted: "at-least" });
        const conforms = (counted: number) =>
          sizeClassResults(
            { per: "mL", rule: "simple-acceptance" },
            classes,
            [{ counted, near: 0 }],
            tested,
          )[0]?.conforms;
        expect(conforms(tenths * part * hundreds)).toBe(true);
        expect(conforms(tenths * part * hundreds + 1)).toBe(false);
      }),
      { numRuns: 1000, examples: [[7, 1, 3]] },
    );
  });

  it("covers the true number in at least 95 of 100 counts, whatever it is", () => {
    // Exact by construction: summed over the Poisson probabilities themselves, nothing drawn.
    for (const mean of [0.3, 1, 2.5, 7, 30]) {
      let covered = 0;
      let probability = Math.exp(-mean);
      for (let counted = 0; counted < mean + 60; counted += 1) {
        const { lower, upper } = numberPerAmount(counted, 4);
        if (lower <= mean / 4 && mean / 4 <= upper) covered += probability;
        probability *= mean / (counted + 1);
      }
      expect(covered).toBeGreaterThanOrEqual(0.95);
    }
  });
});
