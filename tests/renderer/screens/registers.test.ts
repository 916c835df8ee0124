import { describe, expect, it } from "vitest";
import { MethodDefinition } from "#core/contract/records/method.ts";
import { NewMicroscope } from "#core/contract/records/microscope.ts";
import { NewCertificate, NewStageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { READY_METHODS } from "#core/measurement/methods/ready-methods.ts";
import {
  type CertificateTyped,
  certificateInput,
  certificateProblems,
  certifiedLines,
  EMPTY_CERTIFICATE,
  EMPTY_LINE,
  withPastedLines,
} from "#renderer/screens/registers/certificates/certificate-form.ts";
import {
  EMPTY_METHOD,
  keyFromName,
  methodInput,
  methodProblems,
  typedFrom,
} from "#renderer/screens/registers/methods/method-form.ts";
import {
  EMPTY_MICROMETER,
  type MicrometerTyped,
  micrometerInput,
  micrometerProblems,
} from "#renderer/screens/registers/micrometers/micrometer-form.ts";
import {
  EMPTY_EYEPIECE,
  EMPTY_MICROSCOPE,
  emptyObjective,
  type MicroscopeTyped,
  microscopeInput,
  microscopeProblems,
} from "#renderer/screens/registers/microscopes/microscope-form.ts";

const CERTIFICATE: CertificateTyped = {
  ...EMPTY_CERTIFICATE,
  number: "2021/118",
  laboratory: "An invented laboratory",
  calibratedOn: "2021-10-01",
  dueOn: "2026-10-01",
  dueReason: "five years, no history",
  temperature: "20",
  sign: "error",
  lines: [
    { nominal: "0", value: "0" },
    { nominal: "500", value: "0,2" },
    { nominal: "1000", value: "0.4" },
  ],
  expandedUncertainty: "0.30",
  coverageFactor: "2",
};

describe("registering a stage micrometer", () => {
  const typed: MicrometerTyped = {
    ...EMPTY_MICROMETER,
    name: "SM",
    serial: "4711",
    scaleLengthMm: "1",
    divisions: "100",
  };

  it("takes one of which cover glass and place are not recorded", () => {
    expect(micrometerProblems(typed)).toEqual({});
    expect(NewStageMicrometer.parse(micrometerInput(typed))).toMatchObject({ cover: null, keptAt: "" });
  });

  it("sends cover glass and place as typed", () => {
    const full = { ...typed, cover: "uncovered", keptAt: "drawer 2" } as const;
    expect(micrometerProblems(full)).toEqual({});
    expect(NewStageMicrometer.parse(micrometerInput(full))).toMatchObject({ ...full, divisions: 100 });
  });

  it("takes what was typed and kept before these two were asked", () => {
    const { cover: _, keptAt: __, ...kept } = typed;
    expect(micrometerProblems(kept as MicrometerTyped)).toEqual({});
  });

  it("names every gap at its field", () => {
    const emptied = { ...EMPTY_MICROMETER, scaleLengthMm: "", divisions: "" };
    expect(micrometerProblems({ ...emptied, keptAt: "drawer\n2" })).toMatchObject({
      name: expect.any(String),
      serial: expect.any(String),
      scaleLengthMm: expect.any(String),
      divisions: expect.any(String),
      keptAt: "must be one line of text",
    });
  });
});

describe("entering a certificate", () => {
  it("takes a complete one, exactly as typed", () => {
    expect(certificateProblems("sm-1", CERTIFICATE)).toEqual({});
    const input = NewCertificate.parse(certificateInput("sm-1", CERTIFICATE));
    expect(input.lines[1]).toEqual({ nominal: "500", value: "0,2" });
  });

  it("names every gap of an empty one at its field", () => {
    expect(Object.keys(certificateProblems("sm-1", EMPTY_CERTIFICATE)).sort()).toEqual([
      "calibratedOn",
      "coverageFactor",
      "dueOn",
      "dueReason",
      "expandedUncertainty",
      "laboratory",
      "lines.0.nominal",
      "number",
      "sign",
      "temperature",
    ]);
  });

  it("leaves out rows in which nothing was typed, and still names the row that is wrong", () => {
    const [first, , last] = CERTIFICATE.lines;
    const lines = [
      first ?? EMPTY_LINE,
      EMPTY_LINE,
      { nominal: "500", value: "x" },
      last ?? EMPTY_LINE,
      EMPTY_LINE,
    ];
    expect(certificateInput("sm-1", { ...CERTIFICATE, lines }).lines).toHaveLength(3);
    expect(Object.keys(certificateProblems("sm-1", { ...CERTIFICATE, lines }))).toEqual(["lines.2.value"]);
  });

  // Invented rows; the same page read four ways. ISO/IEC Guide 99 (VIM) 2.16 and 2.53, from memory: error is measured
  // minus reference, correction compensates it.
  it.each([
    ["position", "500.2", "0.2"],
    ["error", "0.2", "0.2"],
    ["correction", "0.2", "0.2"],
    ["indication-error", "-0.2", "0.2"],
  ] as const)("reads a column of %s", (sign, value, error) => {
    const lines = [
      { nominal: "0", value: "0" },
      { nominal: "500", value },
    ];
    expect(certifiedLines(sign, lines)[1]?.error.toFixed()).toBe(error);
  });

  it("sees a column of positions read as errors", () => {
    const lines = [
      { nominal: "0", value: "0" },
      { nominal: "500", value: "500.2" },
    ];
    const problems = certificateProblems("sm-1", { ...CERTIFICATE, lines });
    expect(problems["lines.1.value"]).toContain("positions, errors or corrections");
  });

  it("lays a pasted block over the table from the cell it was pasted into", () => {
    const cells = [
      ["0", "0"],
      ["500", "0.2"],
      ["1000", "0.4"],
    ];
    expect(withPastedLines([EMPTY_LINE, EMPTY_LINE], 0, 0, cells)).toEqual([
      { ...EMPTY_LINE, nominal: "0", value: "0" },
      { ...EMPTY_LINE, nominal: "500", value: "0.2" },
      { ...EMPTY_LINE, nominal: "1000", value: "0.4" },
    ]);
    expect(withPastedLines(CERTIFICATE.lines, 1, 1, [["9"], ["8"]])).toEqual([
      { nominal: "0", value: "0" },
      { nominal: "500", value: "9" },
      { nominal: "1000", value: "8" },
    ]);
  });
});

const MICROSCOPE: MicroscopeTyped = {
  ...EMPTY_MICROSCOPE,
  name: "Stand A",
  headCompensated: "no",
  intermediateMagnifications: "1.25; 1.6",
  objectives: [
    { ...emptyObjective(1), magnification: "10", numericalAperture: "0,25" },
    { ...emptyObjective(2), magnification: "40" },
    emptyObjective(3),
  ],
  eyepieces: [
    { ...EMPTY_EYEPIECE, name: "right 10×", scaleLengthMm: "10", divisions: "100" },
    EMPTY_EYEPIECE,
  ],
};

describe("registering a microscope", () => {
  it("takes what was typed and forgets the blank rows that Enter opened at the end", () => {
    expect(microscopeProblems(MICROSCOPE)).toEqual({});
    const input = NewMicroscope.parse(microscopeInput(MICROSCOPE));
    expect(input.objectives.map((one) => one.magnification)).toEqual(["10", "40"]);
    expect(input.eyepieces).toHaveLength(1);
    expect(input.intermediateMagnifications).toEqual(["1.25", "1.6"]);
  });

  it("supposes no reticle and no head: both must be said", () => {
    const problems = microscopeProblems(EMPTY_MICROSCOPE);
    expect(problems).toMatchObject({
      headCompensated: "needs an answer",
      "eyepieces.0.scaleLengthMm": "is empty: type a number",
      "eyepieces.0.divisions": "is empty: type a number",
    });
  });

  it.each([
    [
      { objectives: [MICROSCOPE.objectives[0], { ...MICROSCOPE.objectives[1], position: "1" }] },
      "objectives.1.position",
    ],
    [{ objectives: [{ ...MICROSCOPE.objectives[0], position: "13" }] }, "objectives.0.position"],
    [{ objectives: [{ ...MICROSCOPE.objectives[0], magnification: "0" }] }, "objectives.0.magnification"],
    [{ eyepieces: [{ ...MICROSCOPE.eyepieces[0], divisions: "99.5" }] }, "eyepieces.0.divisions"],
    [{ intermediateMagnifications: "1.6 x" }, "intermediateMagnifications"],
  ])("refuses %j at its field", (change, path) => {
    expect(Object.keys(microscopeProblems({ ...MICROSCOPE, ...change } as MicroscopeTyped))).toContain(path);
  });
});

describe("defining a method", () => {
  it.each(READY_METHODS.map((ready) => [ready.id, ready.definition] as const))(
    "takes the ready method %s over unchanged",
    (_id, definition) => {
      const typed = typedFrom(definition);
      expect(methodProblems(typed)).toEqual({});
      expect(MethodDefinition.parse(methodInput(typed))).toEqual(definition);
    },
  );

  it("names what is wrong with a derived quantity, a class and a number at its field", () => {
    const typed = {
      ...EMPTY_METHOD,
      name: "x",
      dimensions: [
        { key: "", name: "Length" },
        { key: "", name: "Width" },
      ],
    };
    const q = { key: "", name: "Q", kind: "ratio", of: "length; width" };
    expect(methodInput({ ...typed, derived: [q] }).derived).toEqual([
      { key: "q", name: "Q", kind: "ratio", of: ["length", "width"] },
    ]);
    expect(methodProblems({ ...typed, derived: [{ ...q, of: "length, depth" }] })).toEqual({
      "derived.0.of": "is not a dimension of this method",
    });
    expect(methodProblems({ ...typed, derived: [{ ...q, key: "width" }] })).toHaveProperty(["derived.0.key"]);
    expect(methodProblems({ ...typed, classes: [{ of: "q", tableId: "erdtman-shape" }] })).toHaveProperty([
      "classes.0.of",
    ]);
    expect(methodProblems({ ...typed, repeats: "two", wantedPercent: "-1" })).toMatchObject({
      repeats: "must be a whole number",
      wantedPercent: "must be greater than zero",
    });
  });

  it.each([
    ["Polar axis", "polar_axis"],
    ["Äquator-Durchmesser", "aquator_durchmesser"],
    ["2nd width", "nd_width"],
    ["a very long name of a dimension", "a_very_long_name_of"],
    ["µ", ""],
  ])("%s names the column %j", (name, key) => {
    expect(keyFromName(name)).toBe(key);
  });

  it("makes column names from the dimensions' names, and keeps those typed", () => {
    const typed = {
      ...EMPTY_METHOD,
      name: "Pollen",
      dimensions: [
        { name: "Polar axis", key: "" },
        { name: "Equatorial diameter", key: "e" },
        { name: "", key: "" },
      ],
    };
    expect(methodProblems(typed)).toEqual({});
    const definition = MethodDefinition.parse(methodInput(typed));
    expect(definition.dimensions.map((one) => one.key)).toEqual(["polar_axis", "e"]);
  });

  it("refuses two dimensions of one column name", () => {
    const twice = [
      { name: "Length", key: "" },
      { name: "length", key: "" },
    ];
    expect(methodProblems({ ...EMPTY_METHOD, name: "x", dimensions: twice })).toHaveProperty([
      "dimensions.1.key",
    ]);
  });
});
