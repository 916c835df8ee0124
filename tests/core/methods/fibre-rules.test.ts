import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  countOfFibre,
  FIBRE_RULES,
  fibreRuleWords,
  fieldIsObscured,
  judgeFibre,
  NIOSH_7400_A,
  NIOSH_7400_B,
  WHO_FIBRE_RULE,
} from "#core/methods/fibre-rules.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";

const tenths = fc.integer({ min: 1, max: 1000 }).map((n) => decimal(n).div(10));

describe("what is a fibre", () => {
  it("by WHO is always one by NIOSH A, which has no width limit and counts 3:1", () => {
    fc.assert(
      fc.property(tenths, tenths, (length, width) => {
        if (judgeFibre(length, width, WHO_FIBRE_RULE).countable) {
          expect(judgeFibre(length, width, NIOSH_7400_A).countable).toBe(true);
        }
      }),
    );
  });

  it("says every condition that is not met", () => {
    expect(judgeFibre(decimal("5.0"), decimal("3.0"), WHO_FIBRE_RULE).reasons).toEqual([
      "length is not more than 5 µm",
      "width is not less than 3 µm",
      "length to width is not more than 3:1",
    ]);
    expect(judgeFibre(decimal("5.1"), decimal("1.71"), NIOSH_7400_A).reasons).toEqual([
      "length to width is not at least 3:1",
    ]);
    expect(judgeFibre(decimal(10), decimal(2), NIOSH_7400_B)).toEqual({ countable: true, reasons: [] });
    expect(judgeFibre(decimal(10), decimal("2.1"), NIOSH_7400_B).countable).toBe(false);
  });

  it.each(FIBRE_RULES)("$name: longer never stops being a fibre", (rule) => {
    fc.assert(
      fc.property(tenths, tenths, tenths, (length, width, more) => {
        if (judgeFibre(length, width, rule).countable) {
          expect(judgeFibre(length.plus(more), width, rule).countable).toBe(true);
        }
      }),
    );
  });

  it("needs real dimensions", () => {
    expect(() => judgeFibre(ZERO, decimal(1), NIOSH_7400_A)).toThrow(/^length: /);
    expect(() => judgeFibre(decimal(1), decimal(-1), NIOSH_7400_A)).toThrow(/^width: /);
  });
});

describe("a fibre at the edge of the field", () => {
  it.each([
    [2, 0, "1"],
    [1, 1, "0.5"],
    [1, 3, "0"],
    [0, 2, "0"],
    [0, 0, "0"],
    [2, 2, "0"],
  ] as const)("%d ends inside, edge crossed %d times: %s", (endsInside, crossings, count) => {
    expect(countOfFibre({ endsInside, crossings }, NIOSH_7400_A).toString()).toBe(count);
  });

  it("gives half for each end where ends are counted", () => {
    expect(countOfFibre({ endsInside: 2, crossings: 2 }, NIOSH_7400_B).toString()).toBe("1");
    expect(countOfFibre({ endsInside: 1, crossings: 3 }, NIOSH_7400_B).toString()).toBe("0.5");
  });

  it("cannot cross the edge once with both ends on one side", () => {
    expect(() => countOfFibre({ endsInside: 2, crossings: 1 }, NIOSH_7400_A)).toThrow(
      /^crossings: must be odd/,
    );
    expect(() => countOfFibre({ endsInside: 1, crossings: 2 }, NIOSH_7400_A)).toThrow(
      /^crossings: must be odd/,
    );
    expect(() => countOfFibre({ endsInside: 2, crossings: -1 }, NIOSH_7400_A)).toThrow(
      /^crossings: must be a whole/,
    );
  });
});

describe("an obscured field", () => {
  it("is left out above 1/8 by WHO and from 1/6 by NIOSH", () => {
    const eighth = decimal(1).div(8);
    const sixth = decimal(1).div(6);
    expect(fieldIsObscured(eighth, WHO_FIBRE_RULE)).toBe(false);
    expect(fieldIsObscured(eighth.plus("0.001"), WHO_FIBRE_RULE)).toBe(true);
    expect(fieldIsObscured(decimal("0.16"), NIOSH_7400_A)).toBe(false);
    expect(fieldIsObscured(sixth, NIOSH_7400_A)).toBe(true);
    expect(() => fieldIsObscured(decimal("1.1"), NIOSH_7400_A)).toThrow(/^covered: /);
  });
});

describe("a rule in words", () => {
  // NIOSH 7400 issue 2 (1994), A counting rules, as a public laboratory gives them.
  it("is NIOSH's A", () => {
    expect(fibreRuleWords(NIOSH_7400_A)).toEqual([
      "A fibre is more than 5 µm long, along its curve, and at least 3 times as long as wide.",
      "Both ends inside the area: 1 fibre. One end inside: ½. No end inside, or crossing the edge more than once: 0.",
      "A field is left out when debris covers 1/6 or more of it.",
    ]);
  });

  it("is WHO's, with its width and its eighth, and B's, by ends", () => {
    expect(fibreRuleWords(WHO_FIBRE_RULE)[0]).toBe(
      "A fibre is more than 5 µm long, along its curve, less than 3 µm wide, and more than 3 times as long as wide.",
    );
    expect(fibreRuleWords(WHO_FIBRE_RULE)[2]).toContain("more than 1/8 of it");
    expect(fibreRuleWords(NIOSH_7400_B)[1]).toBe("Each end inside the area is ½ fibre.");
  });
});
