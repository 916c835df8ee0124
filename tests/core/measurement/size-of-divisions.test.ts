import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { meanLengthUncertainty } from "#core/measurement/mean-length.ts";
import type { ReadingConditions, SizeInput } from "#core/measurement/size.ts";
import { sizeOfDivisions } from "#core/measurement/size-of-divisions.ts";
import { sizeOfSegments } from "#core/measurement/size-of-segments.ts";
import { type Decimal, decimal, ZERO } from "#core/quantity/decimal.ts";
import { READ_WITHOUT_DOUBT } from "#core/selftest/plain-setups.ts";
import { normalFrom, uniformFrom } from "../../support/seeded-normal.ts";

const d = decimal;

const READ: ReadingConditions = {
  ...READ_WITHOUT_DOUBT,
  smallestFraction: d("0.1"),
  repeatability: d("0.2"),
  alignmentHalfAngle: d(1),
  edgeHalfWidth: d("0.1"),
  edgeKind: "same-sense",
};

function input(own: Partial<SizeInput> = {}): SizeInput {
  return {
    divisions: [d(35)],
    factor: { factor: d("10.1"), standardUncertainty: d("0.01"), degreesOfFreedom: d(20) },
    conditions: READ,
    coverage: "k2",
    ...own,
  };
}

const contribution = (of: SizeInput, key: string): number =>
  sizeOfDivisions(of)
    .budget.find((line) => line.key === key)
    ?.contribution.toNumber() ?? Number.NaN;

describe("a size", () => {
  it("of two points is corrected upwards for the angle, of parallel edges downwards", () => {
    const plain = sizeOfDivisions(input({ conditions: { ...READ, alignmentHalfAngle: ZERO } })).size;
    const points = sizeOfDivisions(input()).size;
    const edges = sizeOfDivisions(input({ conditions: { ...READ, ends: "parallel-edges" } })).size;
    expect(points.greaterThan(plain)).toBe(true);
    expect(edges.lessThan(plain)).toBe(true);
    expect(points.minus(plain).toFixed(20)).toBe(plain.minus(edges).toFixed(20));
  });

  it("of repeats averages their scatter, but not the reading at the ends nor the factor", () => {
    const four = ["34.6", "35.4", "34.6", "35.4"].map(d);
    const sixteen = [...four, ...four, ...four, ...four];
    for (const key of ["factor", "reading-left", "reading-right", "edges"]) {
      expect(contribution(input({ divisions: sixteen }), key), key).toBeCloseTo(
        contribution(input({ divisions: four }), key),
        12,
      );
    }
    expect(contribution(input({ divisions: sixteen }), "repeatability")).toBeLessThan(
      contribution(input({ divisions: four }), "repeatability") * 0.51,
    );
  });

  it("of repeats that agree by chance keeps the person's known spread", () => {
    const chance = input({ divisions: [d(35), d(35)] });
    expect(contribution(chance, "repeatability")).toBeCloseTo((0.2 / Math.SQRT2) * 10.1, 2);
    expect(contribution(input({ divisions: [d(34), d(36)] }), "repeatability")).toBeCloseTo(10.1, 2);
  });

  it("counts edges biased alike more than independent ones, and none when left out", () => {
    const u = (edgeKind: ReadingConditions["edgeKind"]) =>
      sizeOfDivisions(input({ conditions: { ...READ, edgeKind } })).uncertainty.standard.toNumber();
    expect(u("same-sense")).toBeGreaterThan(u("independent"));
    expect(u("independent")).toBeGreaterThan(u("none"));
  });

  it("of nothing is zero with the uncertainty of the reading", () => {
    const zero = sizeOfDivisions(input({ divisions: [ZERO] }));
    expect(zero.size.isZero()).toBe(true);
    expect(zero.uncertainty.expanded.greaterThan(0)).toBe(true);
  });

  const factorWith = (own: Partial<SizeInput["factor"]>) => input({ factor: { ...input().factor, ...own } });
  const readWith = (own: Partial<ReadingConditions>) => input({ conditions: { ...READ, ...own } });
  it.each<[string, SizeInput, RegExp]>([
    ["no reading", input({ divisions: [] }), /^divisions: /],
    ["a reading below zero", input({ divisions: [d(35), d(-1)] }), /^divisions\.1: /],
    ["a reading that is no number", input({ divisions: [d("NaN")] }), /^divisions\.0: /],
    ["an infinite reading", input({ divisions: [d("Infinity")] }), /^divisions\.0: /],
    ["a factor of zero", factorWith({ factor: ZERO }), /^factor\.factor: /],
    [
      "u of the factor below zero",
      factorWith({ standardUncertainty: d(-1) }),
      /^factor\.standardUncertainty: /,
    ],
    [
      "no degrees of freedom of the factor",
      factorWith({ degreesOfFreedom: ZERO }),
      /^factor\.degreesOfFreedom: /,
    ],
    ["a fraction below zero", readWith({ smallestFraction: d(-1) }), /^reading\.smallestFraction: /],
    ["a spread that is no number", readWith({ repeatability: d("NaN") }), /^reading\.repeatability: /],
    ["an angle of a right turn", readWith({ alignmentHalfAngle: d(90) }), /^reading\.alignmentHalfAngle: /],
    ["an edge below zero", readWith({ edgeHalfWidth: d(-1) }), /^reading\.edgeHalfWidth: /],
    [
      "no degrees of freedom of the edge",
      readWith({ edgeDegreesOfFreedom: ZERO }),
      /^reading\.edgeDegreesOfFreedom: /,
    ],
  ])("with %s is refused at its field", (_, bad, field) => {
    expect(() => sizeOfDivisions(bad)).toThrow(field);
  });
});

describe("U of a size", () => {
  const divisions = fc.integer({ min: 10, max: 1000 }).map((n) => d(n).div(10));
  const steps = fc.integer({ min: 0, max: 400 });
  const WIDTHS = {
    smallestFraction: "0.005",
    repeatability: "0.005",
    alignmentHalfAngle: "0.02",
    edgeHalfWidth: "0.002",
  } as const;

  it("never narrows when an input becomes less sure, with k = 2", () => {
    fc.assert(
      fc.property(
        divisions,
        fc.constantFrom(...(Object.keys(WIDTHS) as (keyof typeof WIDTHS)[])),
        steps,
        steps,
        (n, key, first, more) => {
          const u = (value: number): Decimal =>
            sizeOfDivisions(
              input({ divisions: [n], conditions: { ...READ, [key]: d(WIDTHS[key]).times(value) } }),
            ).uncertainty.expanded;
          expect(u(first + more).greaterThanOrEqualTo(u(first))).toBe(true);
        },
      ),
    );
  });

  it("never narrows when the factor is less sure", () => {
    fc.assert(
      fc.property(divisions, steps, steps, (n, first, more) => {
        const u = (value: number): Decimal =>
          sizeOfDivisions(
            input({
              divisions: [n],
              factor: { factor: d("10.1"), standardUncertainty: d(value).div(1000), degreesOfFreedom: null },
            }),
          ).uncertainty.expanded;
        expect(u(first + more).greaterThanOrEqualTo(u(first))).toBe(true);
      }),
    );
  });

  it("stays the same relative to the size when factor and edges are scaled together", () => {
    fc.assert(
      fc.property(divisions, fc.integer({ min: 2, max: 50 }), (n, times) => {
        const relative = (by: number): string => {
          const result = sizeOfDivisions(
            input({
              divisions: [n],
              factor: {
                factor: d("10.1").times(by),
                standardUncertainty: d("0.01").times(by),
                degreesOfFreedom: d(20),
              },
              conditions: { ...READ, edgeHalfWidth: d("0.1").times(by) },
            }),
          );
          return result.uncertainty.expanded.div(result.size).toPrecision(20);
        };
        expect(relative(times)).toBe(relative(1));
      }),
    );
  });
});

describe("an object measured in parts", () => {
  it("has the length of its parts together, with the factor counted once and readings at every part", () => {
    const parts = input({
      divisions: [d(30), d(20), d(10)],
      conditions: { ...READ, alignmentHalfAngle: ZERO },
    });
    const result = sizeOfSegments(parts);
    expect(result.size.toString()).toBe("606");
    const of = (key: string) => result.budget.find((line) => line.key === key)?.contribution.toNumber();
    expect(of("factor")).toBeCloseTo(0.6, 12);
    expect(of("repeatability")).toBeCloseTo(0.2 * Math.sqrt(3) * 10.1, 10);
    expect(of("reading-left")).toBeCloseTo((0.1 / Math.sqrt(12)) * Math.sqrt(3) * 10.1, 10);
    expect(of("edges")).toBeCloseTo((2 * 0.1) / Math.sqrt(3), 10);
  });

  it("lies within U of the truth about 95 times of 100, where the inputs are as stated", () => {
    // Four parts of a straight object, read to 0.1 div with a scatter of 0.2 div, factor 10.1 ± 0.01 µm/div (u). Invented.
    const trueParts = [31.37, 27.44, 30.08, 12.93];
    const length = trueParts.reduce((sum, part) => sum + part, 0) * 10.1;
    const conditions = { ...READ, alignmentHalfAngle: ZERO, edgeKind: "none" } as const;
    const normal = normalFrom(20_262);
    const uniform = uniformFrom(20_263);
    const tenth = (value: number): number => Math.round(value * 10) / 10;
    const times = 2000;
    let within = 0;
    for (let turn = 0; turn < times; turn += 1) {
      const read = trueParts.map((part) => {
        const left = 5 + uniform();
        return d((tenth(left + part + 0.2 * normal()) - tenth(left)).toFixed(1));
      });
      const factor = {
        factor: d(10.1 + 0.01 * normal()),
        standardUncertainty: d("0.01"),
        degreesOfFreedom: null,
      };
      const { size, uncertainty } = sizeOfSegments(
        input({ divisions: read, factor, conditions, coverage: "k2" }),
      );
      if (size.minus(length).abs().lessThanOrEqualTo(uncertainty.expanded)) within += 1;
    }
    expect(within / times).toBeGreaterThan(0.94);
    expect(within / times).toBeLessThan(0.98);
  });

  it("of one part is that part", () => {
    expect(sizeOfSegments(input()).uncertainty.expanded.toFixed(20)).toBe(
      sizeOfDivisions(input()).uncertainty.expanded.toFixed(20),
    );
  });

  it("names the part that is wrong", () => {
    expect(() => sizeOfSegments(input({ divisions: [] }))).toThrow(/^divisions: /);
    expect(() => sizeOfSegments(input({ divisions: [d(1), d("-0.1")] }))).toThrow(/^divisions\.1: /);
  });
});

describe("a mean length", () => {
  const mean = (count: number, coverage: "t95" | "k2" = "k2") =>
    meanLengthUncertainty({
      deviation: d(4),
      count,
      factorUncertainty: d("0.02"),
      factorDegreesOfFreedom: null,
      edgeUncertainty: d("0.15"),
      edgeDegreesOfFreedom: null,
      coverage,
    });

  it("never becomes surer than its factor and edges, however many objects", () => {
    expect(mean(10).standard.greaterThan(mean(1000).standard)).toBe(true);
    const floor = Math.hypot(0.02, 0.15);
    expect(mean(100_000_000).standard.toNumber()).toBeGreaterThan(floor);
    expect(mean(100_000_000).standard.toNumber()).toBeCloseTo(floor, 5);
  });

  it("needs two objects", () => {
    expect(() => mean(1)).toThrow(/^count: /);
    expect(() => mean(2.5)).toThrow(/^count: /);
  });
});
