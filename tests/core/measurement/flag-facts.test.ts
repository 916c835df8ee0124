import { describe, expect, it } from "vitest";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { explainFlags } from "#core/measurement/flag-facts.ts";
import { type FlagSurroundings, flagMeasurement } from "#core/measurement/measurement-flags.ts";
import { previewReadings } from "#core/measurement/typed-reading.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { FlagKey } from "#core/vocabulary/flag.ts";

/* A turret of 10×, 40× and 100× behind one eyepiece, the 10× also behind a changer at 1.6×; invented inputs. */

const factorOf = (factor: string) =>
  ({ factor, standardUncertainty: "0.001", degreesOfFreedom: null }) as never;
const trainOf = (id: string, objectiveId: string, intermediateMagnification = "1") =>
  ({ id, objectiveId, eyepieceId: "e", intermediateMagnification }) as never;
const TRAINS = [
  { train: trainOf("t10", "o10"), factor: factorOf("10.4") },
  { train: trainOf("t40", "o40"), factor: factorOf("2.6") },
  { train: trainOf("t100", "o100"), factor: factorOf("1.04") },
  { train: trainOf("t10c", "o10", "1.6"), factor: factorOf("6.5") },
];

const DEFINITION = {
  dimensions: [],
  reading: defaultTypedReadingConditions(),
  coverage: "t95",
  rounding: "half-even",
  minimumDivisions: "10",
  wantedPercent: "",
};

function around(change: Partial<Record<keyof FlagSurroundings, unknown>> = {}): FlagSurroundings {
  return {
    definition: DEFINITION,
    microscope: {
      headCompensated: true,
      objectives: [
        { id: "o10", magnification: "10", position: 1, numericalAperture: "0.25" },
        { id: "o40", magnification: "40", position: 2, numericalAperture: "0.65" },
        { id: "o100", magnification: "100", position: 3, numericalAperture: "1.25" },
      ],
      eyepieces: [{ id: "e", reticle: { divisions: 100 } }],
    },
    train: TRAINS[0]?.train,
    calibration: { result: TRAINS[0]?.factor, dueOn: "2099-01-01", personId: "p" },
    certificateDueOn: "2099-01-01",
    personId: "p",
    today: "2026-11-25",
    history: null,
    trainFactors: () => TRAINS,
    ...change,
  } as FlagSurroundings;
}

/** What the label measured elsewhere: median 88.4 µm, as the 40× gives for 34 div. */
const HISTORY = {
  n: 120,
  low: decimal("75"),
  median: decimal("88.4"),
  high: decimal("101"),
};

function explain(left: string, right: string, surroundings = around()) {
  const readings = [{ number: 1, left, right, direct: null }];
  const factor = surroundings.calibration?.result ?? null;
  const by = { dimension: "length", factor, definition: surroundings.definition };
  const { size } = previewReadings(readings, by);
  const explained = explainFlags(readings, size, surroundings);
  // Screen and service may never disagree on which flags there are.
  expect(explained.map((one) => one.flag)).toEqual(
    flagMeasurement(readings, size, surroundings).map((one) => one.flag),
  );
  return (flag: FlagKey): Record<string, string> => {
    const facts = explained.find((one) => one.flag === flag)?.facts ?? [];
    return Object.fromEntries(facts.map(({ name, value }) => [name, value]));
  };
}

describe("the numbers behind a flag", () => {
  it("of a wrong objective are the ratio seen, the median, and the candidate's factor", () => {
    // 34 div × 10.4 = 353.6 µm; with the 40× 88.4 µm, a quarter. Invented inputs.
    const facts = explain("10", "44", around({ history: HISTORY }))("wrong-objective");
    expect(facts).toEqual({
      "ratio seen": "353.6 µm is 4.00 × the median",
      "median on other sheets": "88.4 µm, n = 120",
      "factor used": "10.40 µm/div, 4.00 × that of 40× at position 2",
      "40× at position 2": "2.600 µm/div would make it 88.40 µm",
    });
  });

  it("of a forgotten changer name its setting", () => {
    // 353.6 ÷ 1.6 = 221 µm.
    const history = { ...HISTORY, median: decimal("221"), low: decimal("200"), high: decimal("240") };
    const facts = explain("10", "44", around({ history }))("changer-forgotten");
    expect(facts).toEqual({
      "ratio seen": "353.6 µm is 1.60 × the median",
      "median on other sheets": "221 µm, n = 120",
      "factor used": "10.40 µm/div, 1.60 × that of changer at 1.6×",
      "changer at 1.6×": "6.500 µm/div would make it 221.0 µm",
    });
  });

  it("of an unusual size are its place among the earlier ones", () => {
    expect(explain("10", "21.5", around({ history: HISTORY }))("outside-history")).toEqual({
      size: "119.6 µm, 1.35 × the median",
      "median of the label": "88.4 µm, n = 120",
      "middle 95 %": "75.0 µm to 101 µm",
    });
  });

  it("of too few divisions are what the method asks for and the objective of least power that would do", () => {
    expect(explain("40", "45")("few-divisions")).toEqual({
      spans: "5 div",
      "method asks for": "10 div",
      "objective that suits": "40× at position 2: 20 div",
    });
    const wanted = { ...DEFINITION, wantedPercent: "0.1" };
    expect(explain("40", "45", around({ definition: wanted }))("few-divisions")["objective that suits"]).toBe(
      "none of the calibrated ones on this turret",
    );
  });

  it("near the resolution are the limit by Rayleigh's criterion and the aperture that would do", () => {
    // 0.61·0.55/0.25 = 1.342 µm (any textbook of optics); 13 div would be needed, 1 div of the 10× is read.
    expect(explain("40", "41")("near-resolution")).toEqual({
      size: "10.40 µm",
      "limit at NA 0.25": "1.342 µm",
      "10 × the limit": "13.42 µm",
      "objective that suits": "40× at position 2: NA 0.65",
    });
  });

  it("of readings off the scale or the wrong way round are the readings", () => {
    expect(explain("95", "104")("off-scale")).toEqual({
      readings: "95 div and 104 div",
      scale: "0 to 100 div",
    });
    expect(explain("60", "40")("edges-reversed")).toEqual({ left: "60 div", right: "40 div" });
  });

  it("of what is overdue are the dates", () => {
    const facts = explain("10", "60", around({ certificateDueOn: "2026-11-24" }))("certificate-overdue");
    expect(facts).toEqual({ due: "2026-11-24", today: "2026-11-25" });
  });

  it("of an uncertainty not met are U and its share", () => {
    const definition = { ...DEFINITION, wantedPercent: "0.01" };
    const facts = explain("10", "60", around({ definition }))("uncertainty-not-met");
    expect(facts.U).toMatch(/^4\.2 µm, 0\.80 % of 520\.0 µm$/);
    expect(facts.wanted).toBe("0.01 %");
  });
});
