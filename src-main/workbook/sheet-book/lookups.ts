import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Eyepiece, Objective, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { confirmationWords } from "#core/optics/confirmation-words.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";

/** A calibration with the number it has in this workbook and what it rests on. */
export interface NumberedCalibration {
  readonly record: CalibrationRecord;
  readonly number: number;
  readonly train: OpticalTrain | null;
  readonly micrometer: StageMicrometer | null;
  readonly certificate: Certificate | null;
}

/** Names for the identifiers of a bundle, as people know them. */
export interface Lookups {
  person(id: string | null): string;
  objective(trainId: string): string;
  readonly calibrations: readonly NumberedCalibration[];
  calibration(id: string): NumberedCalibration | null;
}

/** `position 4: 40×/0.65, no. 1234`. */
export function objectiveName(objective: Objective): string {
  const serial = objective.serial === "" ? "" : `, no. ${objective.serial}`;
  const until = objective.replaced ? `, on the turret until ${objective.replaced.on}` : "";
  return `position ${objective.position}: ${objectiveWords(objective)}${serial}${until}`;
}

/** `Eyepiece W 10×, reticle R-2: 10 mm in 100 div`. */
export function eyepieceName(eyepiece: Eyepiece): string {
  const { reticle } = eyepiece;
  const engraving = reticle.engraving === "" ? "" : ` ${reticle.engraving}`;
  return `${eyepiece.name}, reticle${engraving}: ${reticle.scaleLengthMm} mm in ${reticle.divisions} div`;
}

export function certificateName(certificate: Certificate): string {
  const accreditation = certificate.accreditation === "" ? "" : ` (${certificate.accreditation})`;
  return `${certificate.number}, ${certificate.laboratory}${accreditation}, ${certificate.calibratedOn}`;
}

export function lookupsOf(bundle: SheetBundle): Lookups {
  const people = new Map(bundle.people.map((person) => [person.id, person.name]));
  const objectives = new Map(bundle.microscope.objectives.map((one) => [one.id, objectiveName(one)]));
  const trains = new Map(bundle.trains.map((train) => [train.id, train]));
  const micrometers = new Map(bundle.stageMicrometers.map((one) => [one.id, one]));
  const calibrations = bundle.calibrations.map((record, index): NumberedCalibration => {
    const micrometer = micrometers.get(record.stageMicrometerId) ?? null;
    return {
      record,
      number: index + 1,
      train: trains.get(record.trainId) ?? null,
      micrometer,
      certificate: micrometer?.certificates.find((one) => one.id === record.certificateId) ?? null,
    };
  });
  const byId = new Map(calibrations.map((one) => [one.record.id, one]));
  const trainName = (train: OpticalTrain): string => {
    const changer =
      train.intermediateMagnification === "1" ? "" : `, changer ${train.intermediateMagnification}×`;
    return `${objectives.get(train.objectiveId) ?? "an objective that is no longer registered"}${changer}`;
  };
  return {
    person: (id) => (id === null ? "" : (people.get(id) ?? id)),
    objective: (trainId) => {
      const train = trains.get(trainId);
      return train === undefined ? trainId : trainName(train);
    },
    calibrations,
    calibration: (id) => byId.get(id) ?? null,
  };
}

/** The last confirmation of the train: when, by whom, with what of head and eyes; empty when nobody confirmed it. */
export function confirmedWords({ sheet, microscope }: SheetBundle, lookups: Lookups): string {
  const { lastConfirmed } = sheet;
  if (lastConfirmed === null) return "";
  const objective = microscope.objectives.find((one) => one.id === lastConfirmed.objectiveId);
  return [
    `${lastConfirmed.at.slice(0, 16).replace("T", " ")} UTC by ${lookups.person(lastConfirmed.by)}`,
    objective ? objectiveName(objective) : "",
    confirmationWords(lastConfirmed),
  ]
    .filter((part) => part !== "")
    .join("; ");
}

/** One line for the foot of every page: which factors, micrometers and certificates the page rests on. */
export function traceLine(bundle: SheetBundle, lookups: Lookups): string {
  if (lookups.calibrations.length === 0) return `${bundle.sheet.number} · no calibration`;
  const parts = lookups.calibrations.map((one) => {
    const factor = one.record.result?.shownFactor ?? "?";
    return `${factor} µm/div by ${one.micrometer?.serial ?? "?"}, cert. ${one.certificate?.number ?? "?"}`;
  });
  const line = `${bundle.sheet.number} · ${parts.join("; ")}`;
  return line.length <= 140 ? line : `${bundle.sheet.number} · factors and certificates: see Calibrations`;
}
