import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  buildScene,
  enter,
  grainMethod,
  newCertificate,
  newMicroscope,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { dumpOf } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let draftId: string;

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await enter(bench, scene, "row-1", { dimension: "length", edge: "left" }, "40");
  const draft = await bench.call("calibrations.begin", {
    requestId: bench.request(),
    calibration: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    },
  });
  draftId = draft.id;
});
afterAll(() => bench.end());

interface BadInput {
  readonly what: string;
  readonly call: string;
  readonly input: () => object;
  readonly code?: string;
  readonly field: string | undefined;
}

const reading = (typed: unknown) => ({
  sheetId: scene.sheet.id,
  rowId: "row-2",
  cell: { dimension: "length", edge: "left" },
  typed,
  label: "",
});
const unreadable = (what: string, typed: string): BadInput => ({
  what,
  call: "rows.enter",
  input: () => reading(typed),
  code: "reading.unreadable",
  field: "typed",
});
const certificate = (what: string, change: object, field: string): BadInput => ({
  what,
  call: "certificates.register",
  input: () => ({ certificate: { ...newCertificate(scene.micrometer.id), number: "C-9", ...change } }),
  field: `certificate.${field}`,
});
const microscope = (what: string, change: object, field: string): BadInput => ({
  what,
  call: "microscopes.register",
  input: () => ({ microscope: { ...newMicroscope("Stand Z"), ...change } }),
  field: `microscope.${field}`,
});
const objective = (change: object) => ({
  objectives: [
    { position: 1, magnification: "10", numericalAperture: "", immersion: "dry", serial: "" },
    { position: 2, magnification: "40", numericalAperture: "", immersion: "dry", serial: "", ...change },
  ],
});
const method = (what: string, change: object, field: string): BadInput => ({
  what,
  call: "methods.define",
  input: () => ({ familyId: null, definition: { ...grainMethod(), name: "Other", ...change } }),
  field: `definition.${field}`,
});
const sheet = (what: string, change: object, code: string, field: string): BadInput => ({
  what,
  call: "sheets.open",
  input: () => ({
    sheet: {
      sample: "X",
      note: "",
      methodId: scene.methodId,
      microscopeId: scene.microscope.id,
      eyepieceId: scene.microscope.eyepieces[0]?.id,
      intermediateMagnification: "1",
      objectiveId: scene.microscope.objectives[0]?.id,
      ...change,
    },
  }),
  code,
  field: `sheet.${field}`,
});

const BAD_INPUTS: readonly BadInput[] = [
  unreadable("letters for a reading", "4o"),
  unreadable("an exponent", "1e999"),
  unreadable("nothing", "   "),
  unreadable("two decimal marks", "4.0.1"),
  unreadable("infinity", "Infinity"),
  unreadable("hexadecimal", "0x10"),
  unreadable("a number of 41 digits", "1".repeat(41)),
  { what: "a number instead of text", call: "rows.enter", input: () => reading(40), field: "typed" },
  {
    what: "half a megabyte of text",
    call: "rows.enter",
    input: () => reading("4".repeat(500_000)),
    field: "typed",
  },
  {
    what: "an edge that is none",
    call: "rows.enter",
    input: () => ({ ...reading("40"), cell: { dimension: "length", edge: "top" } }),
    field: "cell.edge",
  },
  {
    what: "a dimension the method has not",
    call: "rows.enter",
    input: () => ({ ...reading("40"), cell: { dimension: "depth", edge: "left" } }),
    code: "dimension.unknown",
    field: "cell.dimension",
  },
  {
    what: "an unknown sheet",
    call: "rows.enter",
    input: () => ({ ...reading("40"), sheetId: "none" }),
    code: "sheet.unknown",
    field: "sheetId",
  },
  {
    what: "a member too many",
    call: "rows.enter",
    input: () => ({ ...reading("40"), size: "400" }),
    field: undefined,
  },
  {
    what: "an objective that is not on the turret",
    call: "sheets.chooseObjective",
    input: () => ({ sheetId: scene.sheet.id, objectiveId: "none" }),
    code: "objective.unknown",
    field: "objectiveId",
  },
  {
    what: "a row that is not there",
    call: "rows.strike",
    input: () => ({ sheetId: scene.sheet.id, rowId: "none", reason: "because" }),
    code: "row.unknown",
    field: "rowId",
  },
  {
    what: "a reason of blanks",
    call: "rows.strike",
    input: () => ({ sheetId: scene.sheet.id, rowId: "row-1", reason: "     " }),
    field: "reason",
  },
  certificate(
    "falling certificate positions",
    {
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "500", value: "0" },
        { nominal: "400", value: "0" },
      ],
    },
    "lines.2.nominal",
  ),
  certificate("a single certified line", { lines: [{ nominal: "0", value: "0" }] }, "lines"),
  certificate(
    "letters in the table",
    {
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "1000", value: "o.1" },
      ],
    },
    "lines.1.value",
  ),
  certificate(
    "a line beyond the scale",
    {
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "1001", value: "0" },
      ],
    },
    "lines.1.nominal",
  ),
  certificate(
    "positions given as errors",
    {
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "1000", value: "1000.1" },
      ],
    },
    "lines.1.value",
  ),
  certificate("a coverage factor of zero", { coverageFactor: "0" }, "coverageFactor"),
  certificate("a negative uncertainty", { expandedUncertainty: "-0.3" }, "expandedUncertainty"),
  certificate("a due date before the calibration", { dueOn: "2025-05-31" }, "dueOn"),
  certificate("a calibration in the future", { calibratedOn: "2027-01-01" }, "calibratedOn"),
  certificate("a date that does not exist", { calibratedOn: "2025-02-30" }, "calibratedOn"),
  certificate("a temperature in kelvin", { temperature: "293" }, "temperature"),
  microscope("no name", { name: "   " }, "name"),
  microscope("no objective", { objectives: [] }, "objectives"),
  microscope("no eyepiece", { eyepieces: [] }, "eyepieces"),
  microscope(
    "letters for a magnification",
    objective({ magnification: "forty" }),
    "objectives.1.magnification",
  ),
  microscope("a magnification of zero", objective({ magnification: "0" }), "objectives.1.magnification"),
  microscope("an aperture of 65", objective({ numericalAperture: "65" }), "objectives.1.numericalAperture"),
  {
    ...microscope("a turret position taken twice", objective({ position: 1 }), "objectives.1.position"),
    code: "objective.taken",
  },
  microscope("a turret position of 0", objective({ position: 0 }), "objectives.1.position"),
  microscope("a step twice", { intermediateMagnifications: ["1", "1.0"] }, "intermediateMagnifications.1"),
  method("no dimension", { dimensions: [] }, "dimensions"),
  method(
    "a dimension twice",
    {
      dimensions: [
        { key: "a", name: "A" },
        { key: "a", name: "B" },
      ],
    },
    "dimensions.1.key",
  ),
  method("letters for the least divisions", { minimumDivisions: "ten" }, "minimumDivisions"),
  method(
    "a negative repeatability",
    { reading: { ...grainMethod().reading, repeatability: "-0.2" } },
    "reading.repeatability",
  ),
  sheet("an unknown method", { methodId: "none" }, "method.unknown", "methodId"),
  sheet("an unknown microscope", { microscopeId: "none" }, "microscope.unknown", "microscopeId"),
  sheet("an unknown eyepiece", { eyepieceId: "none" }, "eyepiece.unknown", "eyepieceId"),
  sheet("an unknown objective", { objectiveId: "none" }, "objective.unknown", "objectiveId"),
  sheet(
    "a magnification the stand has not",
    { intermediateMagnification: "2" },
    "train.unknown",
    "intermediateMagnification",
  ),
  {
    what: "a certificate of another micrometer",
    call: "calibrations.begin",
    input: () => ({
      calibration: {
        trainId: trainOfPosition(scene, 1).id,
        stageMicrometerId: scene.micrometer.id,
        certificateId: "none",
      },
    }),
    code: "certificate.unknown",
    field: "calibration.certificateId",
  },
  {
    what: "an interpupillary distance in metres",
    call: "people.register",
    input: () => ({ person: { name: "Cy", initials: "", interpupillaryMm: "630" } }),
    field: "person.interpupillaryMm",
  },
];

describe("bad input is answered at its field and changes nothing", () => {
  it.each(BAD_INPUTS)("$what ($call)", async ({ call, input, code, field }) => {
    const before = dumpOf(bench.paths.databaseFile);
    const error = await bench.refusal(call, { requestId: bench.request(), ...input() });
    expect({ code: error.code, field: error.field }).toEqual({ code: code ?? "input.invalid", field });
    expect(error.message).not.toBe("");
    expect(dumpOf(bench.paths.databaseFile)).toBe(before);
  });

  it.each([
    [
      "a zero span on the reticle",
      { reticleLeft: "50", reticleRight: "50.0", lineLeft: "0", lineRight: "100" },
      "reticleRight",
    ],
    [
      "a reversed span",
      { reticleLeft: "96.4", reticleRight: "0", lineLeft: "0", lineRight: "100" },
      "reticleRight",
    ],
    [
      "a zero span on the micrometer",
      { reticleLeft: "0", reticleRight: "96.4", lineLeft: "5", lineRight: "5" },
      "lineRight",
    ],
    [
      "a line outside the certificate",
      { reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "101" },
      "lineRight",
    ],
    [
      "an exponent",
      { reticleLeft: "0", reticleRight: "1e999", lineLeft: "0", lineRight: "100" },
      "reticleRight",
    ],
    ["an empty cell", { reticleLeft: "0", reticleRight: "96.4", lineLeft: "", lineRight: "100" }, "lineLeft"],
  ])("a setting with %s does not come into force", async (_, setting, field) => {
    const good = { reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" };
    const draft = await bench.call("calibrations.get", { calibrationId: draftId });
    await bench.call("calibrations.keepDraft", {
      calibrationId: draftId,
      settings: [good, setting],
      conditions: draft.conditions,
      estimator: draft.estimator,
      coverage: draft.coverage,
      remark: "",
    });
    const before = dumpOf(bench.paths.databaseFile);
    const error = await bench.refusal("calibrations.putInForce", {
      requestId: bench.request(),
      calibrationId: draftId,
      dueOn: "2027-03-01",
      reason: "yearly",
    });
    expect(error).toMatchObject({ code: "calibration.incomplete", field: `settings.1.${field}` });
    expect(dumpOf(bench.paths.databaseFile)).toBe(before);
  });
});
