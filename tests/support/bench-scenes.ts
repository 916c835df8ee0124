import type { CallInput } from "#core/contract/calls.ts";
import type { CalibrationRecord, TypedConditions } from "#core/contract/records/calibration.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";
import type { TempBench } from "./temp-bench.ts";

/** Everything a sheet needs; all of it invented. */
export interface Scene {
  readonly personId: string;
  readonly microscope: Microscope;
  readonly trains: readonly OpticalTrain[];
  readonly micrometer: StageMicrometer;
  readonly certificate: Certificate;
  readonly methodId: string;
  readonly sheet: Sheet;
}

export const OBJECTIVES = [
  { position: 1, magnification: "10", numericalAperture: "0.25", immersion: "dry", serial: "" },
  { position: 2, magnification: "40", numericalAperture: "0.65", immersion: "dry", serial: "" },
] as const;

export function grainMethod(): MethodDefinition {
  return {
    ...PLAIN_METHOD,
    name: "Grain size",
    dimensions: [
      { key: "length", name: "Length" },
      { key: "width", name: "Width" },
    ],
    edgeConvention: "outer edge of the wall",
    reading: defaultTypedReadingConditions(),
    coverage: "t95",
    rounding: "half-even",
    minimumDivisions: "10",
    note: "",
  };
}

export function newMicroscope(name = "Stand A") {
  return {
    name,
    maker: "",
    model: "",
    serial: "",
    headCompensated: false,
    intermediateMagnifications: [],
    objectives: OBJECTIVES.map((one) => ({ ...one })),
    eyepieces: [
      {
        name: "10×/22",
        magnification: "10",
        fieldNumber: "22",
        serial: "",
        reticle: { engraving: "10/100", scaleLengthMm: "10", divisions: "100" },
      },
    ],
  };
}

/** A certificate of a perfect 1 mm scale: positions equal to nominal. */
export function newCertificate(stageMicrometerId: string) {
  return {
    stageMicrometerId,
    number: "C-1",
    laboratory: "Invented Length Laboratory",
    accreditation: "",
    calibratedOn: "2025-06-01",
    dueOn: "2030-06-01",
    dueReason: "glass scale, kept clean",
    temperature: "20",
    sign: "error" as const,
    lines: [
      { nominal: "0", value: "0" },
      { nominal: "500", value: "0.1" },
      { nominal: "1000", value: "0" },
    ],
    expandedUncertainty: "0.3",
    coverageFactor: "2",
  };
}

/** What may be recorded of a stage micrometer and need not be. */
export const COVERED_IN_A_DRAWER = { cover: "under a cover glass", keptAt: "drawer 2" } as const;

export type SceneChoice = Pick<CallInput<"micrometers.register">["micrometer"], "cover" | "keptAt"> &
  Pick<CallInput<"sheets.open">["sheet"], "customer">;

/** Registers a person, a microscope, a micrometer with certificate and a method, and opens a sheet on the 10×. */
export async function buildScene(
  bench: TempBench,
  { customer = "Moor Apiary", ...more }: SceneChoice = {},
): Promise<Scene> {
  const { call, request } = bench;
  const person = await call("people.register", {
    requestId: request(),
    person: { name: "Ada Example", initials: "AE", interpupillaryMm: "63" },
  });
  await call("people.choose", { personId: person.id });
  const microscope = await call("microscopes.register", {
    requestId: request(),
    microscope: newMicroscope(),
  });
  const overview = await call("bench.overview", {});
  const trains = overview.microscopes[0]?.trains.map((status) => status.train) ?? [];
  const micrometer = await call("micrometers.register", {
    requestId: request(),
    micrometer: {
      name: "SM 1",
      serial: "4711",
      maker: "",
      scaleLengthMm: "1",
      divisions: "100",
      substrate: "soda-lime glass",
      ...more,
    },
  });
  const certificate = await call("certificates.register", {
    requestId: request(),
    certificate: newCertificate(micrometer.id),
  });
  const method = await call("methods.define", {
    requestId: request(),
    familyId: null,
    definition: grainMethod(),
  });
  const sheet = await call("sheets.open", {
    requestId: request(),
    sheet: {
      sample: "Honey 7",
      customer,
      note: "",
      methodId: method.id,
      microscopeId: microscope.id,
      eyepieceId: microscope.eyepieces[0]?.id ?? "",
      intermediateMagnification: "1" as Sheet["intermediateMagnification"],
      objectiveId: microscope.objectives[0]?.id ?? "",
    },
  });
  return { personId: person.id, microscope, trains, micrometer, certificate, methodId: method.id, sheet };
}

export function trainOfPosition(scene: Scene, position: number): OpticalTrain {
  const objective = scene.microscope.objectives.find((one) => one.position === position);
  const train = scene.trains.find((one) => one.objectiveId === objective?.id);
  if (!train) throw new Error(`no train at turret position ${position}`);
  return train;
}

export interface CalibrateOptions {
  readonly position?: number;
  /** Reticle reading at the right, divisions, against the whole micrometer. */
  readonly right?: string;
  readonly lineRight?: string;
  readonly dueOn?: string;
  readonly conditions?: Partial<TypedConditions>;
  /** Digits after the point of a working factor; null: the exact one. */
  readonly workingPlaces?: number | null;
}

/** Begins, types and puts in force a calibration; by default 96.4 divisions on 1 mm with the lowest objective. */
export async function calibrateTrain(
  bench: TempBench,
  scene: Scene,
  {
    position = 1,
    right = "96.4",
    lineRight = "100",
    dueOn = "2027-03-01",
    conditions = {},
    workingPlaces = null,
  }: CalibrateOptions = {},
): Promise<CalibrationRecord> {
  const { call, request } = bench;
  const draft = await call("calibrations.begin", {
    requestId: request(),
    calibration: {
      trainId: trainOfPosition(scene, position).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
    },
  });
  const setting = { reticleLeft: "0", reticleRight: right, lineLeft: "0", lineRight };
  await call("calibrations.keepDraft", {
    calibrationId: draft.id,
    settings: [setting, setting, setting],
    conditions: { ...draft.conditions, ...conditions },
    estimator: "origin-regression",
    coverage: "t95",
    remark: "",
  });
  return call("calibrations.putInForce", {
    requestId: request(),
    calibrationId: draft.id,
    dueOn,
    reason: "yearly calibration",
    workingPlaces,
  });
}

/** Enters one reading and answers the row. */
export function enter(
  bench: TempBench,
  scene: Scene,
  rowId: string,
  cell: CallInput<"rows.enter">["cell"],
  typed: string,
): Promise<SpecimenRow> {
  return bench.call("rows.enter", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    rowId,
    cell,
    typed,
    label: "grain",
  });
}

/** Enters both edges of the length. */
export async function enterLength(
  bench: TempBench,
  scene: Scene,
  rowId: string,
  left: string,
  right: string,
): Promise<SpecimenRow> {
  await enter(bench, scene, rowId, { dimension: "length", edge: "left" }, left);
  return enter(bench, scene, rowId, { dimension: "length", edge: "right" }, right);
}
