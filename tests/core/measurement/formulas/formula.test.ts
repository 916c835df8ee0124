import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formulaAt, readFormula } from "#core/measurement/formulas/formula.ts";
import { formulaValue } from "#core/measurement/formulas/formula-value.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { InputError } from "#core/quantity/input-error.ts";

const COLUMNS = ["length", "width", "depth"];

function problemOf(text: string): string {
  try {
    readFormula(text, COLUMNS, "derived.0.formula");
    return "none";
  } catch (error) {
    if (error instanceof InputError && error.field === "derived.0.formula") return error.reason;
    throw error;
  }
}
const SIZES = new Map([
  ["length", decimal(12)],
  ["width", decimal(5)],
  ["depth", decimal(2)],
]);
const computed = (text: string): Decimal => formulaAt(readFormula(text, COLUMNS), SIZES).value;

describe("a formula of the laboratory's own", () => {
  it.each([
    ["length*width", "60", "µm²"],
    ["length × width · depth", "120", "µm³"],
    ["length/width", "2.4", "1"],
    ["(length+width)/2", "8.5", "µm"],
    ["length - width - depth", "5", "µm"],
    ["length/width/depth", "1.2", "µm⁻¹"],
    ["2*(length − width)", "14", "µm"],
    // A minus binds looser than a power, and powers go from right to left.
    ["-width^2+length*width", "35", "µm²"],
    ["length*width^-1", "2.4", "1"],
    ["depth^2^2*um", "16", "µm⁵"],
    ["(length*width*depth)^(1/3)", "4.932424148660940576", "µm"],
    ["sqrt(length*width-depth^2+um^2*5)", "7.810249675906654394", "µm"],
    ["max(length, width, depth)/min(length, width)", "2.4", "1"],
    ["width*exp(-1)", "1.839397205857211608", "µm"],
    ["ln(length/width)*width", "4.3773436867694997", "µm"],
    ["pi/4*width^2", "19.634954084936207740", "µm²"],
    ["length + 2.5*um", "14.5", "µm"],
    [".5*length", "6", "µm"],
  ])("%s is %s", (text, value, unit) => {
    const formula = readFormula(text, COLUMNS);
    expect(formula.unit).toBe(unit);
    expect(computed(text).minus(value).abs().toNumber()).toBeLessThan(1e-15);
  });

  it.each([
    ["", "must not be empty"],
    ["lenght*width", "names “lenght”, which is no column of this method: it has length, width, depth"],
    ["length*", /^cannot be read/],
    ["(length", /^cannot be read/],
    ["length width", /^holds two values side by side/],
    ["1,5*length", /^holds two values side by side/],
    ["sin(length)", "calls “sin”, which is no function here: it may use sqrt, ln, exp, min and max"],
    ["sqrt(length, width)", "gives sqrt more or less than one value"],
    ["min(length)", "gives min fewer than 2 or more than 6 values"],
    ["length + width^2", /^adds µm and µm², whose units do not fit/],
    ["length - 3", /^subtracts µm and a pure number, whose units do not fit/],
    ["ln(length)", "gives ln µm, but needs a pure number"],
    ["max(length, 2)", /^compares in max µm and a pure number/],
    ["length^width", "has an exponent of µm, but needs a pure number"],
    ["length^(width/depth)", "has an exponent that is not a plain number, such as 2 or 1/3"],
    ["sqrt(length)", /^comes out in µm to the power of 0\.5/],
    ["2*pi", "names no column of this method"],
    ["length/(width-width)", /^gives no finite number/],
    ["length/length", "gives the same number whatever is measured"],
    ["'length'", /^cannot take|^holds something/],
    ["[length]", /^holds something|^cannot be read/],
    ["length ? width : depth", /^holds something|^cannot be read/],
    ["length.constructor", /^holds something/],
    ["constructor(length)", /^calls “constructor”/],
    ["__proto__", /^names “__proto__”/],
    ["toString*length", /^names “toString”/],
    ["length = width", /^cannot be read|^holds/],
    ["length && width", /^cannot be read|^holds/],
    ["length; width", /^holds two values side by side/],
  ])("%j is refused at its field", (text, problem) => {
    expect(problemOf(text)).toMatch(problem);
  });

  it("is taken out of its range by some sizes alone, and says so then", () => {
    const formula = readFormula("sqrt(width^2 - length^2)", COLUMNS);
    expect(() => formulaAt(formula, SIZES)).toThrow("takes its formula out of its range");
  });

  it("has the slopes that differences give, for any formula of the closed set", () => {
    const leaf = fc.constantFrom("length", "width", "depth", "2*um", "0.7*um");
    const { length } = fc.letrec<{ length: string }>((tie) => ({
      length: fc.oneof(
        { depthSize: "small", withCrossShrink: true },
        leaf,
        fc.tuple(tie("length"), tie("length")).map(([a, b]) => `(${a}+${b})`),
        fc.tuple(tie("length"), tie("length")).map(([a, b]) => `(${a}-${b}/3)`),
        fc.tuple(tie("length"), tie("length")).map(([a, b]) => `sqrt(${a}^2+${b}^2)`),
        fc.tuple(tie("length"), tie("length")).map(([a, b]) => `max(${a}, ${b})`),
        fc.tuple(tie("length"), tie("length"), tie("length")).map(([a, b, c]) => `min(${a}, ${b}, ${c})`),
        fc.tuple(tie("length"), leaf).map(([a, b]) => `(${a}*exp(-${b}/(10*um)))`),
        fc.tuple(tie("length"), leaf).map(([a, b]) => `(${a}*ln(3+${b}/um))`),
        fc.tuple(tie("length"), leaf).map(([a, b]) => `(-${a}^2/(${b}+um))`),
      ),
    }));
    const step = decimal("1e-12");
    fc.assert(
      fc.property(
        length,
        fc.array(fc.integer({ min: 1000, max: 90_000 }), { minLength: 3, maxLength: 3 }),
        (text, thousandths) => {
          let formula: ReturnType<typeof readFormula>;
          try {
            formula = readFormula(text, COLUMNS);
          } catch (error) {
            // Constants alone, or what cancels.
            fc.pre(!(error instanceof InputError));
            throw error;
          }
          // Not alike, so that no two of min and max are equal by chance.
          const sizes = new Map(
            COLUMNS.map((key, at) => [key, decimal((thousandths[at] ?? 0) + at / 7).div(1000)]),
          );
          const { value, partials } = formulaAt(formula, sizes);
          formula.sizes.forEach((key, at) => {
            const moved = (by: Decimal) =>
              formulaValue(formula.node, new Map([...sizes, [key, (sizes.get(key) ?? decimal(0)).plus(by)]]));
            const slope = moved(step).minus(moved(step.neg())).div(step.times(2));
            const scale = Math.max(1, Math.abs(value.toNumber()), Math.abs(slope.toNumber()));
            expect(partials[at]?.minus(slope).abs().toNumber()).toBeLessThan(1e-8 * scale);
          });
        },
      ),
      { numRuns: 300 },
    );
  });
});
