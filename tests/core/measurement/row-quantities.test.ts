import { describe, expect, it } from "vitest";
import type { FactorRecord } from "#core/contract/records/calibration.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import type { Measurement } from "#core/contract/records/sheet.ts";
import { derivedInputs, derivedUnit, derivedWords } from "#core/measurement/derived-kind.ts";
import { READY_METHODS } from "#core/measurement/methods/ready-methods.ts";
import type { RowQuantity } from "#core/measurement/row-quantities.ts";
import { rowQuantities } from "#core/measurement/row-quantities.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import { type DecimalText, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { DERIVED_KINDS } from "#core/vocabulary/derived-kinds.ts";

/** Invented inputs: 2 µm/div, u(f)/f = 1 %. */
const FACTOR = {
  factor: "2",
  standardUncertainty: "0.02",
  degreesOfFreedom: null,
} as unknown as FactorRecord;

const pollen = READY_METHODS.find((one) => one.id === "pollen-p-e")?.definition as MethodDefinition;

/** Readings that are exact, so that only the factor has an uncertainty. */
const EXACT: MethodDefinition = {
  ...pollen,
  coverage: "k2",
  classes: [],
  reading: { ...pollen.reading, smallestFraction: "0", repeatability: "0", edgeKind: "none" },
};

function measured(dimension: string, right: string, definition: MethodDefinition): Measurement {
  const readings = { left: "0", right, direct: null, repeats: [] };
  const { divisions, size } = previewReadings([{ number: 1, left: "0", right, direct: null }], {
    dimension,
    factor: FACTOR,
    definition,
  });
  return {
    dimension,
    entry: "two-edges",
    ...readings,
    trainId: "t",
    calibrationId: "c",
    divisions: divisions && textOfDecimal(divisions),
    size,
    missing: null,
    flags: [],
    enteredAt: "2026-03-02T09:00:00.000Z",
    enteredBy: "p",
  };
}

function quantities(sizes: Readonly<Record<string, string>>, definition: MethodDefinition) {
  const measurements = Object.entries(sizes).map(([key, right]) => measured(key, right, definition));
  return rowQuantities({ measurements }, definition, () => FACTOR);
}

function derived(of: readonly string[], kind: string, sizes: Readonly<Record<string, string>>): RowQuantity {
  const dimensions = Object.keys(sizes).map((key) => ({ key, name: key }));
  const definition = { ...EXACT, dimensions, derived: [{ key: "x", name: "X", kind, of: [...of] }] };
  const [quantity] = quantities(sizes, definition).derived;
  if (!quantity || !("value" in quantity)) throw new Error(`no quantity: ${quantity?.missing}`);
  return quantity;
}

const relativeU = (quantity: RowQuantity): number =>
  Number(quantity.standardUncertainty) / Number(quantity.value);

describe("derived quantities of a row", () => {
  // Elementary geometry of the solids; H. Hillebrand et al. 1999, from memory. Values computed.
  it.each([
    ["ratio", ["p", "e"], { p: "16", e: "10" }, 1.6, 0],
    ["circle-area", ["p"], { p: "5" }, 78.53981633974483, 0.02],
    ["largest", ["p", "e"], { p: "5", e: "6" }, 12, 0.01],
    ["mean", ["p", "e"], { p: "5", e: "6" }, 11, 0.01],
    ["sphere", ["d"], { d: "5" }, 523.5987755982989, 0.03],
    ["prolate-spheroid", ["d", "h"], { d: "5", h: "10" }, 1047.1975511965977, 0.03],
    ["cylinder", ["d", "h"], { d: "4", h: "15" }, 1507.9644737231006, 0.03],
    ["truncated-cone", ["a", "b", "h"], { a: "3", b: "5", h: "6" }, 615.7521601035994, 0.03],
    ["capsule", ["d", "h"], { d: "4", h: "10" }, 871.2683625955692, 0.03],
    ["ellipsoid", ["a", "b", "c"], { a: "10", b: "5", c: "4" }, 837.7580409572781, 0.03],
  ] as const)(
    "%s: the value of its formula, and the shared factor counted once",
    (kind, of, sizes, value, u) => {
      const quantity = derived(of, kind, sizes);
      expect(Number(quantity.value)).toBeCloseTo(value, 8);
      expect(relativeU(quantity)).toBeCloseTo(u, 12);
      expect(quantity.unit).toBe(derivedUnit(kind));
    },
  );

  it("count the reading of a size that stands for two inputs as one error", () => {
    const reading = { ...EXACT.reading, repeatability: "0.1" };
    const dimensions = [
      { key: "l", name: "L" },
      { key: "w", name: "W" },
    ];
    const withKind = (kind: string, of: string[]): MethodDefinition => ({
      ...EXACT,
      reading,
      dimensions,
      derived: [{ key: "v", name: "V", kind, of }],
    });
    const sizes = { l: "10", w: "5" };
    const [twice] = quantities(sizes, withKind("ellipsoid", ["l", "w", "w"])).derived;
    const [spheroid] = quantities(sizes, withKind("prolate-spheroid", ["w", "l"])).derived;
    const { value, standardUncertainty } = twice as RowQuantity;
    expect(Number(value)).toBeCloseTo(Number((spheroid as RowQuantity).value), 10);
    expect(Number(standardUncertainty)).toBeCloseTo(
      Number((spheroid as RowQuantity).standardUncertainty),
      10,
    );
  });

  it("say what is missing instead of guessing", () => {
    expect(quantities({ p: "16" }, EXACT).derived).toEqual([
      { key: "p_e", name: "P/E", unit: "1", missing: "Equatorial diameter has no size" },
      { key: "longest", name: "Longest axis", unit: "µm", missing: "Equatorial diameter has no size" },
    ]);
    const capsule = { ...EXACT, derived: [{ key: "v", name: "V", kind: "capsule", of: ["p", "e"] }] };
    const [impossible] = quantities({ p: "16", e: "10" }, capsule).derived;
    expect(impossible).toMatchObject({
      missing: expect.stringContaining("must not be less than the diameter"),
    });
    const [zero] = quantities({ p: "16", e: "0" }, EXACT).derived;
    expect(zero).toMatchObject({ missing: expect.any(String) });
  });

  it("have the class of the table named, or the words for a limit", () => {
    // G. Erdtman 1952, shape classes in eighths; from memory.
    const of = (p: string, e: string) => quantities({ p, e }, pollen).classes.map((one) => one.words);
    expect(of("16", "10")).toEqual(["prolate", "medium (media)"]);
    expect(of("10", "24")).toEqual(["peroblate", "medium (media)"]);
    expect(of("12", "12")[0]).toBe("on the limit between oblate spheroidal and prolate spheroidal");
  });

  it("have inputs, a unit and words for every kind there is", () => {
    for (const kind of DERIVED_KINDS) {
      expect(derivedWords(kind)).not.toBe(kind);
      expect(["1", "µm", "µm²", "µm³"]).toContain(derivedUnit(kind));
      const inputs = derivedInputs(kind);
      if (inputs) expect(inputs.length).toBeGreaterThan(0);
    }
    expect(DERIVED_KINDS.filter((kind) => derivedInputs(kind) === null)).toEqual(["largest", "mean"]);
  });

  it("agree with the sizes that are frozen in the row", () => {
    const [, longest] = quantities({ p: "16", e: "10" }, pollen).derived;
    const frozen = measured("p", "16", pollen).size;
    expect((longest as RowQuantity).value).toBe(frozen?.value as DecimalText);
    expect((longest as RowQuantity).expandedUncertainty).toBe(frozen?.expandedUncertainty as DecimalText);
  });
});
