import type { BenchOverview } from "#core/contract/records/bench.ts";
import type { Location } from "../../window/location.ts";

export interface FirstStep {
  readonly key: string;
  readonly words: string;
  readonly detail: string;
  readonly done: boolean;
  readonly go: Location;
}

/** The way from an empty bench to its first sheet, in order. */
export function firstSteps(overview: BenchOverview, micrometerId: string | null): readonly FirstStep[] {
  const { counts } = overview;
  const calibrated = overview.microscopes.some(({ trains }) => trains.some((train) => train.inForce));
  return [
    {
      key: "microscope",
      words: "Register the microscope",
      detail: "Stand, objectives on the turret, eyepiece with its reticle.",
      done: overview.microscopes.length > 0,
      go: { screen: "registers", register: "microscopes", recordId: null, form: "new" },
    },
    {
      key: "micrometer",
      words: "Register the stage micrometer",
      detail: "The ruled slide: length, divisions, serial number.",
      done: counts.stageMicrometers > 0,
      go: { screen: "registers", register: "micrometers", recordId: null, form: "new" },
    },
    {
      key: "certificate",
      words: "Enter its certificate",
      detail: "Certified lines, U and k, and the due date you decide.",
      done: counts.certificates > 0,
      go: { screen: "registers", register: "micrometers", recordId: micrometerId, form: "certificate" },
    },
    {
      key: "calibrate",
      words: "Calibrate an objective",
      detail: "Lay the two scales over each other, read, put the factor in force.",
      done: calibrated,
      go: { screen: "calibrate", trainId: null, calibrationId: null },
    },
    {
      key: "sheet",
      words: "Open the first sheet",
      detail: "One sample, one method, yours or a ready one: the first size in µm.",
      done: counts.sheets > 0,
      go: { screen: "measure", sheetId: null },
    },
  ];
}
