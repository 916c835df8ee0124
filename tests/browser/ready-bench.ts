import type { Page } from "@playwright/test";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { calibrate, newRequest, registerMicrometer, type TypedSetting } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";

export interface ReadyBench {
  readonly sheetId: string;
  readonly trainIds: readonly string[];
  readonly micrometerId: string;
  readonly certificateId: string;
}

export interface ReadyBenchOptions {
  readonly dimensions?: readonly { readonly key: string; readonly name: string }[];
  /** Puts a calibration of the first train in force: 96.4 divisions on 1 mm. */
  readonly calibrated?: boolean;
}

const setting = (reticleLeft: string, reticleRight: string): TypedSetting => ({
  reticleLeft,
  reticleRight,
  lineLeft: "0",
  lineRight: "100",
});
const FIRST_SETTINGS = [setting("0.0", "96.4"), setting("0.5", "97.0"), setting("0.2", "96.5")];

/** A bench with everything a sheet needs, made by calls; all of it invented. */
export async function readyBench(page: Page, options: ReadyBenchOptions = {}): Promise<ReadyBench> {
  const person = await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name: "Ada Example", initials: "AE", interpupillaryMm: "63" },
  });
  await callFrom(page, "people.choose", { personId: person.id });
  const microscope = await callFrom(page, "microscopes.register", {
    requestId: newRequest(),
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
  const { micrometerId, certificateId } = await registerMicrometer(
    page,
    { name: "SM 1", serial: "4711" },
    { number: "C-1", calibratedOn: "2025-06-01" },
  );
  if (options.calibrated ?? true) {
    const at = { trainId: trainIds[0] ?? "", stageMicrometerId: micrometerId, certificateId };
    await calibrate(page, at, FIRST_SETTINGS, "first calibration of this train");
  }
  const method = await callFrom(page, "methods.define", {
    requestId: newRequest(),
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
    requestId: newRequest(),
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
  return { sheetId: sheet.id, trainIds, micrometerId, certificateId };
}
