import { describe, expect, it } from "vitest";
import { benchTrains } from "#renderer/screens/bench/work-out/bench-trains.ts";
import { workOut } from "#renderer/screens/bench/work-out/calculator.ts";
import { FIELD_CALCULATORS } from "#renderer/screens/bench/work-out/field-calculators.ts";
import { LENGTH_CALCULATORS } from "#renderer/screens/bench/work-out/length-calculators.ts";
import { overviewOf, stand, trainsOf } from "./bench-fixture.ts";

const ALL = [...LENGTH_CALCULATORS, ...FIELD_CALCULATORS];

/** Invented: the first objective of 10×, factor 2.525 µm/div with u 0.005. */
const microscope = stand("Stand A", [1, 4]);
const RESULT = { factor: "2.525", standardUncertainty: "0.005", degreesOfFreedom: null };
const [train] = benchTrains(
  overviewOf([
    {
      microscope,
      trains: trainsOf(microscope, ["ready"]).map((one) => ({
        ...one,
        inForce: { result: RESULT } as never,
      })),
    },
  ]),
);

function outcomes(id: string, typed: Readonly<Record<string, string>>, withTrain = true) {
  const calculator = ALL.find((one) => one.id === id);
  if (!calculator) throw new Error(`there is no calculation ${id}`);
  const worked = workOut(calculator, typed, withTrain ? (train ?? null) : null);
  expect(worked.problems).toEqual({});
  return Object.fromEntries(worked.outcomes ?? []);
}

describe("what the bench works out", () => {
  it("is told of the train", () => {
    expect(train).toMatchObject({ magnification: "10", intermediate: "1" });
  });

  // Field number over magnification: common practice, no source.
  it("a field of view from the field number", () => {
    const typed = { fieldNumber: "20", objective: "40", intermediate: "1" };
    expect(outcomes("field", typed)).toEqual({ Diameter: "500 µm", Area: "0.1963 mm²" });
  });

  // NIOSH 7400 (issue 2) Appendix A, from memory: 4.02 mm; 0.00785 mm² is printed with its equipment.
  it("a counting circle to order", () => {
    const typed = { realLengthMm: "4.5", apparentLengthUm: "112", wantedDiameterUm: "100" };
    expect(outcomes("order", typed)).toEqual({
      "Circle to order": "4.02 mm",
      "Its area at the specimen": "0.00785 mm²",
    });
  });

  // ASTM E112, table of grain size relationships, from memory: 32.0 µm is printed against G 6.6, 28.3 µm against 7.0.
  it("a grain size number", () => {
    const counted = (lineLength: string) => outcomes("grain-counted", { lineLength, intercepts: "100" });
    expect(counted("3.2")["Grain size number G"]).toBe("6.64");
    expect(counted("2.83")["Grain size number G"]).toBe("7.00");
    const typed = { mean: "32.0", deviation: "20", count: "400", edges: "0" };
    // By hand: u(mean) = √(1 + (32·0.005/2.525)²) = 1.0020; k(t, ν ≈ 402) = 1.966; U(G) = 2.8854·1.970/32.
    expect(outcomes("grain", typed)).toEqual({
      "Mean intercept ± U": "32.0 ± 2.0 µm",
      "Grain size number G ± U": "6.64 ± 0.18",
    });
    expect(outcomes("grain", typed, false)["Left out"]).toMatch(/the factor/);
  });

  // Golden inputs of the self-test: mean 15.74 µm, s 4.617 µm, 30 objects; here without factor: t(29) = 2.0452.
  it("a mean with its uncertainty", () => {
    const typed = { mean: "15.74", deviation: "4.61747803982605", count: "30", edges: "0" };
    expect(outcomes("mean", typed, false)["Mean ± U"]).toBe("15.7 ± 1.7 µm");
  });

  // Textbook rule, from memory: 4.0 µm of drum in a mount of 1.515 under a dry objective is 6.06 µm.
  it("a thickness by focusing, by the drum's own factor", () => {
    const typed = {
      upper: "10",
      lower: "12",
      perDivision: "2",
      drumStep: "0",
      focusing: "0",
      mountIndexHalfWidth: "0",
    };
    const found = outcomes("depth", { ...typed, immersionIndexHalfWidth: "0.01" });
    expect(found["Travel of the drum"]).toBe("4 µm");
    // u = 6.06·0.01/√3, k = 2.
    expect(found["Thickness ± U"]).toBe("6.060 ± 0.070 µm");
  });

  it("a distance by the stage", () => {
    const typed = { fromX: "1", fromY: "2", toX: "4", toY: "6", vernierStep: "0", setting: "0" };
    // 5 mm; 0.2 % as a rectangle, k = 2: 11.5 µm.
    expect(outcomes("stage", typed)["Distance ± U"]).toBe("5000 ± 12 µm");
  });

  it("a circle and squares by the factor, which counts twice in areas", () => {
    // 39.6 div of 2.525 µm: 99.99 µm and 0.0078524 mm², in double precision; 2·0.198 %·1.96 = 0.776 %.
    expect(outcomes("circle", { divisions: "39.6", doubt: "0" })).toEqual({
      Diameter: "99.99 ± 0.39 µm",
      Area: "0.007852 ± 0.000061 mm²",
    });
    expect(outcomes("squares", { squares: "100", doubt: "0" }).Area).toBe("637.6 ± 4.9 µm²");
  });

  it("a drum and the circles of a reticle", () => {
    expect(outcomes("drum", { turns: "3", drum: "47.5" })).toMatchObject({
      Reading: "3.475 div",
      "One step of the drum": "0.01 div",
    });
    // L = 0.66 µm: 2.64 and 5.28 µm are printed for circles 4 and 6: common practice, no source.
    expect(outcomes("circles", { length: "132" })).toMatchObject({
      "Circle 4": "2.64 µm",
      "Circle 6": "5.28 µm",
    });
  });

  it("says at its field what cannot be taken, and nothing while something is missing", () => {
    const [drum] = FIELD_CALCULATORS.filter(({ id }) => id === "drum");
    if (!drum) throw new Error("there is no drum");
    expect(workOut(drum, { turns: "3", drum: "100" }, null)).toEqual({
      outcomes: null,
      problems: { drum: "must be less than 100, one whole turn" },
    });
    expect(workOut(drum, { turns: "3" }, null)).toEqual({ outcomes: null, problems: {} });
    expect(workOut(drum, { turns: "x", drum: "1" }, null).problems).toHaveProperty("turns");
    const [squares] = FIELD_CALCULATORS.filter(({ id }) => id === "squares");
    expect(squares && workOut(squares, { squares: "4" }, null).outcomes).toBeNull();
  });
});
