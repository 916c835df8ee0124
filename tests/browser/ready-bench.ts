import type { Page } from "@playwright/test";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { callFrom } from "./bench-window.ts";

let requests = 0;
const request = (): string => {
  requests += 1;
  return `browser-test-${process.pid}-${requests}`;
};

export interface ReadyBench {
  readonly sheetId: string;
  readonly trainIds: readonly string[];
  readonly micrometerId: string;
}

export interface ReadyBenchOptions {
  readonly dimensions?: readonly { readonly key: string; readonly name: string }[];
  /** Puts a calibration of the first train in force: 99 divisions on 1 mm. */
  readonly calibrated?: boolean;
}

/** A bench with everything a sheet needs, made by calls; all of it invented. */
export async function readyBench(page: Page, options: ReadyBenchOptions = {}): Promise<ReadyBench> {
  const person = await callFrom(page, "people.register", {
    requestId: request(),
    person: { name: "Ada Example", initials: "AE", interpupillaryMm: "63" },
  });
  await callFrom(page, "people.choose", { personId: person.id });
  const microscope = await callFrom(page, "microscopes.register", {
    requestId: request(),
    microscope: {
      name: "Stand A",
      maker: "",
      model: "",
      serial: "",
      headCompensated: true,
      intermediateMagnifications: [],
      objectives: [
        { position: 1, magnification: "10", numericalAperture: "0.25", immersion: "dry", serial: "" },
        { position: 2, magnification: "40", numericalAperture: "0.65", immersion: "dry", serial: "" },
        { position: 3, magnification: "100", numericalAperture: "1.25", immersion: "oil", serial: "" },
      ],
      eyepieces: [
        {
          name: "10×/22",
          magnification: "10",
          fieldNumber: "22",
          serial: "",
          reticle: { engraving: "10/100", scaleLengthMm: "10", divisions: "100" },
        },
      ],
    },
  });
  const overview = await callFrom(page, "bench.overview", {});
  const trainIds = overview.microscopes[0]?.trains.map((one) => one.train.id) ?? [];
  const micrometer = await callFrom(page, "micrometers.register", {
    requestId: request(),
    micrometer: {
      name: "SM 1",
      serial: "4711",
      maker: "",
      scaleLengthMm: "1",
      divisions: "100",
      substrate: "soda-lime glass",
    },
  });
  const certificate = await callFrom(page, "certificates.register", {
    requestId: request(),
    certificate: {
      stageMicrometerId: micrometer.id,
      number: "C-1",
      laboratory: "Invented Length Laboratory",
      accreditation: "",
      calibratedOn: "2025-06-01",
      dueOn: "2099-06-01",
      dueReason: "glass scale, kept clean",
      temperature: "20",
      sign: "error",
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "500", value: "0" },
        { nominal: "1000", value: "0" },
      ],
      expandedUncertainty: "0.3",
      coverageFactor: "2",
    },
  });
  if (options.calibrated ?? true)
    await calibrateFirst(page, trainIds[0] ?? "", micrometer.id, certificate.id);
  const method = await callFrom(page, "methods.define", {
    requestId: request(),
    familyId: null,
    definition: {
      name: "Grain size",
      dimensions: [...(options.dimensions ?? [{ key: "length", name: "Length" }])],
      edgeConvention: "outer edge of the wall",
      reading: defaultTypedReadingConditions(),
      coverage: "t95",
      rounding: "half-even",
      minimumDivisions: "10",
      note: "",
    },
  });
  const sheet = await callFrom(page, "sheets.open", {
    requestId: request(),
    sheet: {
      sample: "Sample 7",
      note: "",
      methodId: method.id,
      microscopeId: microscope.id,
      eyepieceId: microscope.eyepieces[0]?.id ?? "",
      intermediateMagnification: microscope.intermediateMagnifications[0] ?? ("1" as never),
      objectiveId: microscope.objectives[0]?.id ?? "",
    },
  });
  return { sheetId: sheet.id, trainIds, micrometerId: micrometer.id };
}

async function calibrateFirst(
  page: Page,
  trainId: string,
  stageMicrometerId: string,
  certificateId: string,
): Promise<void> {
  const draft = await callFrom(page, "calibrations.begin", {
    requestId: request(),
    calibration: { trainId, stageMicrometerId, certificateId },
  });
  const setting = (left: string, right: string) => ({
    reticleLeft: left,
    reticleRight: right,
    lineLeft: "0",
    lineRight: "100",
  });
  await callFrom(page, "calibrations.keepDraft", {
    calibrationId: draft.id,
    settings: [setting("0.0", "99.0"), setting("0.5", "99.6"), setting("0.2", "99.1")],
    conditions: draft.conditions,
    estimator: draft.estimator,
    coverage: draft.coverage,
    remark: "",
  });
  await callFrom(page, "calibrations.putInForce", {
    requestId: request(),
    calibrationId: draft.id,
    dueOn: "2099-01-31",
    reason: "first calibration of this train",
  });
}
