import type { z } from "zod";
import { calibrate } from "#core/calibration/calibrate.ts";
import { defaultTypedConditions } from "#core/calibration/default-conditions.ts";
import { factorRecordOf } from "#core/calibration/factor-record.ts";
import { readCalibration } from "#core/calibration/typed-calibration.ts";
import type { CalibrationRecord, TypedSetting } from "#core/contract/records/calibration.ts";
import { type Method, MethodDefinition } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { TestedAmount } from "#core/contract/records/tested-amount.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";
import { previewSize } from "#core/measurement/typed-reading.ts";
import { type DecimalText, readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { SheetBundle } from "#main/workbook/sheet-book/sheet-bundle-type.ts";

/** Invented inputs throughout; every result is computed by src-core as a service would. */

const stored = (text: string): DecimalText => readDecimal("example", text).text;
export const AT = "2026-03-02T09:30:15.250Z";

export function setting(left: string, right: string, lineLeft: string, lineRight: string): TypedSetting {
  return { reticleLeft: left, reticleRight: right, lineLeft, lineRight };
}

const MICROSCOPE: Microscope = {
  id: "m1",
  name: "Stand A",
  maker: "",
  model: "",
  serial: "A-1",
  headCompensated: true,
  intermediateMagnifications: [stored("1")],
  objectives: [
    {
      id: "o10",
      microscopeId: "m1",
      position: 2,
      magnification: stored("10"),
      numericalAperture: stored("0.25"),
      immersion: "dry",
      serial: "10-7",
    },
    {
      id: "o40",
      microscopeId: "m1",
      position: 4,
      magnification: stored("40"),
      numericalAperture: stored("0.65"),
      immersion: "dry",
      serial: "",
    },
  ],
  eyepieces: [
    {
      id: "e1",
      microscopeId: "m1",
      name: "W 10×",
      magnification: stored("10"),
      fieldNumber: stored("20"),
      serial: "",
      reticle: { id: "r1", engraving: "R-7", scaleLengthMm: stored("10"), divisions: 100 },
    },
  ],
  registeredAt: AT,
};

function train(id: string, objectiveId: string, nominal: string): OpticalTrain {
  return {
    id,
    microscopeId: "m1",
    eyepieceId: "e1",
    reticleId: "r1",
    objectiveId,
    intermediateMagnification: stored("1"),
    nominalFactor: stored(nominal),
  };
}

export const TRAINS = [train("t10", "o10", "10"), train("t40", "o40", "2.5")];

export interface ExampleCertificate {
  readonly U: string;
  readonly lines: readonly (readonly [nominal: string, error: string])[];
}

function micrometerOf(certificate: ExampleCertificate): StageMicrometer {
  const record: Certificate = {
    id: "c1",
    stageMicrometerId: "s1",
    number: "K-2025/118",
    laboratory: "Length laboratory of the example",
    accreditation: "EX-001",
    calibratedOn: "2025-06-18",
    dueOn: "2030-06-18",
    dueReason: "glass scale, seldom used",
    temperature: stored("20"),
    sign: "error",
    lines: certificate.lines.map(([nominal, error]) => ({
      nominal: stored(nominal),
      error: stored(error),
      typedNominal: nominal,
      typedValue: error,
    })),
    expandedUncertainty: stored(certificate.U),
    coverageFactor: stored("2"),
    registeredAt: AT,
  };
  return {
    id: "s1",
    name: "Stage micrometer 1 mm",
    serial: "SM-4711",
    maker: "",
    scaleLengthUm: stored("1000"),
    divisions: 100,
    substrate: "soda-lime glass",
    expansion: stored("0.0000091"),
    expansionHalfWidth: stored("0.000001"),
    cover: "under a cover glass",
    keptAt: "drawer 2",
    certificates: [record],
    registeredAt: AT,
  };
}

export function calibrationOf(
  id: string,
  trainId: string,
  settings: readonly TypedSetting[],
  micrometer: StageMicrometer,
): CalibrationRecord {
  const certificate = micrometer.certificates[0];
  if (certificate === undefined) throw new Error("an example micrometer has a certificate");
  const conditions = defaultTypedConditions(micrometer.expansion, micrometer.expansionHalfWidth);
  const typed = { settings, conditions, estimator: "origin-regression", coverage: "t95" } as const;
  const result = calibrate(readCalibration({ ...typed, scale: certificate, linePitchUm: "10" }));
  return {
    id,
    trainId,
    stageMicrometerId: micrometer.id,
    certificateId: certificate.id,
    personId: "p1",
    state: "in force",
    startedAt: AT,
    ...typed,
    settings: [...settings],
    remark: "",
    result: factorRecordOf(result),
    dueOn: "2027-03-02",
    inForceAt: AT,
    inForceBy: "p1",
    endedAt: null,
    endedBy: null,
    endReason: null,
  };
}

/** One row in short: label, then per dimension key its readings and the calibration (null: none in force). */
export interface ExampleRow {
  readonly label: string;
  readonly note?: string;
  readonly struck?: string;
  readonly readings: Readonly<
    Record<string, readonly [left: string, right: string | null, calibrationId: string | null]>
  >;
}

export interface ExampleBundle {
  readonly definition?: Partial<z.input<typeof MethodDefinition>>;
  readonly certificate?: ExampleCertificate;
  readonly settings10?: readonly TypedSetting[];
  readonly rows: readonly ExampleRow[];
  readonly amendments?: readonly TrailLine[];
  readonly sample?: string;
  readonly tested?: TestedAmount;
}

export function bundleOf(example: ExampleBundle): SheetBundle {
  const micrometer = micrometerOf(
    example.certificate ?? {
      U: "0.3",
      lines: [
        ["0", "0"],
        ["500", "0.1"],
        ["1000", "0.2"],
      ],
    },
  );
  const definition = MethodDefinition.parse({
    ...PLAIN_METHOD,
    name: "Diameter",
    dimensions: [{ key: "d", name: "diameter" }],
    edgeConvention: "outer edge of the wall",
    reading: defaultTypedReadingConditions(),
    coverage: "t95",
    rounding: "half-even",
    minimumDivisions: "10",
    note: "",
    ...example.definition,
  });
  const calibrations = [
    calibrationOf(
      "cal10",
      "t10",
      example.settings10 ?? [
        setting("0", "96.4", "0", "100"),
        setting("0", "96.5", "0", "100"),
        setting("0", "96.3", "0", "100"),
      ],
      micrometer,
    ),
    calibrationOf(
      "cal40",
      "t40",
      [
        setting("0", "80.1", "0", "20"),
        setting("0", "79.9", "0", "20"),
        setting("5.0", "85.0", "40", "60"),
        setting("0", "97.3", "0", "25"),
      ],
      micrometer,
    ),
  ];
  const method: Method = {
    id: "method1",
    familyId: "method1",
    version: 1,
    definition,
    definedAt: AT,
    definedBy: "p1",
  };
  const rows = example.rows.map((row, index) => rowOf(row, index + 1, definition, calibrations));
  const used = new Set(rows.flatMap((row) => row.measurements.map((one) => one.calibrationId)));
  return {
    sheet: {
      id: "sheet1",
      number: "S-0001",
      sample: example.sample ?? "Example sample",
      ...example.tested,
      note: "",
      methodId: "method1",
      microscopeId: "m1",
      eyepieceId: "e1",
      intermediateMagnification: stored("1"),
      objectiveId: "o10",
      openedAt: AT,
      openedBy: "p1",
      rowCount: rows.length,
      struckCount: rows.filter((row) => row.struck !== null).length,
      lastConfirmed: null,
    },
    method,
    people: [
      { id: "p1", name: "Ada Example", initials: "AE", interpupillaryMm: stored("62"), registeredAt: AT },
    ],
    microscope: MICROSCOPE,
    trains: TRAINS,
    calibrations: calibrations.filter((one) => used.has(one.id)),
    stageMicrometers: [micrometer],
    rows: () => rows,
    amendments: example.amendments ?? [],
    assessments: [],
    checks: [],
    overdueUses: [],
    pictures: [],
    earlier: { trains: [], calibrations: [], stageMicrometers: [], results: () => [] },
    signOffs: [],
    bench: null,
    program: { name: "Linefall", version: "0.1.0" },
    asOf: "2026-03-03T10:00:00.000Z",
  };
}

function rowOf(
  row: ExampleRow,
  ordinal: number,
  definition: MethodDefinition,
  calibrations: readonly CalibrationRecord[],
): SpecimenRow {
  const measurements = Object.entries(row.readings).map(
    ([dimension, [left, right, calibrationId]]): Measurement => {
      const factor = calibrations.find((one) => one.id === calibrationId)?.result ?? null;
      const base = {
        dimension,
        entry: "two-edges" as const,
        left,
        right,
        direct: null,
        repeats: [],
        trainId: calibrationId === "cal40" ? "t40" : "t10",
        calibrationId,
        flags: [],
        enteredAt: AT,
        enteredBy: "p1",
      };
      if (right === null) return { ...base, divisions: null, size: null, missing: null };
      const divisions = textOfDecimal(
        readDecimal("right", right).value.minus(readDecimal("left", left).value),
      );
      if (factor === null) {
        return { ...base, divisions, size: null, missing: "no calibration in force for 10× on Stand A" };
      }
      return {
        ...base,
        divisions,
        size: previewSize({ left, right, factor, definition }).size,
        missing: null,
      };
    },
  );
  return {
    id: `row${ordinal}`,
    sheetId: "sheet1",
    ordinal,
    label: row.label,
    note: row.note ?? "",
    stage: null,
    struck: row.struck === undefined ? null : { at: AT, by: "p1", reason: row.struck },
    measurements,
  };
}
