import type { CalibrationSummary } from "#core/contract/records/calibration.ts";
import type { EquipmentEvent } from "#core/contract/records/equipment-event.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import type { CertificateReplacement } from "#core/contract/records/service-state.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { Replacement, TraceSubject } from "#core/contract/records/trace.ts";
import { eventWords } from "#core/optics/lent-eyepiece.ts";
import { datedObjectiveWords } from "#core/optics/train-name.ts";
import { shownDay } from "../../parts/bench-words/instant.ts";
import type { Choice } from "../../parts/form/SelectField.tsx";

/** Everything on the bench one can look forward from. */
export interface Bench {
  readonly micrometers: readonly StageMicrometer[];
  readonly microscopes: readonly Microscope[];
  readonly calibrations: readonly CalibrationSummary[];
  readonly events: readonly EquipmentEvent[];
  readonly replacements: readonly CertificateReplacement[];
  readonly trainName: (trainId: string) => string;
}

const calibrationWords = (one: CalibrationSummary, bench: Bench): string =>
  `${bench.trainName(one.trainId)}, ${shownDay(one.startedAt)}, ${one.shownFactor ?? "–"} µm/div, ${one.state}`;

const CHOICES: Readonly<Record<TraceSubject["kind"], (bench: Bench) => readonly Choice[]>> = {
  certificate: ({ micrometers, replacements }) =>
    micrometers.flatMap((micrometer) =>
      micrometer.certificates.map((one) => ({
        value: one.id,
        words: `${one.number} of ${micrometer.name}, ${one.calibratedOn}${
          replacements.some(({ certificateId }) => certificateId === one.id) ? ", replaced" : ""
        }`,
      })),
    ),
  "stage micrometer": ({ micrometers }) =>
    micrometers.map((one) => ({ value: one.id, words: `${one.name}, serial ${one.serial}` })),
  microscope: ({ microscopes }) => microscopes.map((one) => ({ value: one.id, words: one.name })),
  objective: ({ microscopes }) =>
    microscopes.flatMap((microscope) =>
      microscope.objectives.map((one) => ({
        value: one.id,
        words: `${datedObjectiveWords(one)}, position ${one.position} of ${microscope.name}`,
      })),
    ),
  reticle: ({ microscopes }) =>
    microscopes.flatMap((microscope) =>
      microscope.eyepieces.map((one) => ({
        value: one.reticle.id,
        words: `${one.reticle.scaleLengthMm} mm in ${one.reticle.divisions}${one.reticle.engraving ? `, engraved ${one.reticle.engraving}` : ""}, in ${one.name} on ${microscope.name}`,
      })),
    ),
  calibration: (bench) =>
    bench.calibrations
      .filter((one) => one.shownFactor !== null)
      .map((one) => ({ value: one.id, words: calibrationWords(one, bench) })),
  event: ({ events }) =>
    events.map((one) => ({ value: one.id, words: `${one.happenedOn}: ${eventWords(one)}, ${one.words}` })),
};

/** The things of a kind, in words. */
export function subjectChoices(kind: TraceSubject["kind"], bench: Bench): readonly Choice[] {
  return CHOICES[kind](bench);
}

/** Calibrations a subject reaches, whose trains another calibration may serve. */
function trainsReached({ kind, id }: TraceSubject, bench: Bench): ReadonlySet<string> | null {
  const of = (belongs: (one: CalibrationSummary) => boolean) =>
    new Set(
      bench.calibrations.filter((one) => one.shownFactor !== null && belongs(one)).map((one) => one.trainId),
    );
  if (kind === "certificate") return of((one) => one.certificateId === id);
  if (kind === "stage micrometer") return of((one) => one.stageMicrometerId === id);
  if (kind === "calibration") return of((one) => one.id === id);
  if (kind === "event") return new Set(bench.events.find((one) => one.id === id)?.trainIds);
  return null;
}

function micrometersReached({ kind, id }: TraceSubject, bench: Bench): ReadonlySet<string> | null {
  if (kind === "stage micrometer") return new Set([id]);
  const owner = (certificateId: string) =>
    bench.micrometers.find((one) => one.certificates.some((certificate) => certificate.id === certificateId))
      ?.id;
  if (kind === "certificate") return new Set([owner(id) ?? ""]);
  if (kind === "calibration") {
    return new Set([bench.calibrations.find((one) => one.id === id)?.stageMicrometerId ?? ""]);
  }
  return null;
}

/**
 * What may take the place of the subject: other certificates of the micrometers it reaches, other calibrations of its
 * trains. The service has the last word.
 */
export function replacementChoices(subject: TraceSubject, bench: Bench): readonly Choice[] {
  const micrometers = micrometersReached(subject, bench);
  const trains = trainsReached(subject, bench);
  const certificates = bench.micrometers
    .filter((one) => micrometers === null || micrometers.has(one.id))
    .flatMap((micrometer) =>
      micrometer.certificates
        .filter((one) => one.id !== subject.id)
        .map((one) => ({
          value: `certificate ${one.id}`,
          words: `certificate ${one.number} of ${micrometer.name}, ${one.calibratedOn}`,
        })),
    );
  const calibrations = bench.calibrations
    .filter((one) => one.shownFactor !== null && one.state !== "withdrawn" && one.id !== subject.id)
    .filter((one) => trains === null || trains.has(one.trainId))
    .map((one) => ({ value: `calibration ${one.id}`, words: `calibration ${calibrationWords(one, bench)}` }));
  return [...certificates, ...calibrations];
}

/** The replacement a choice stands for; null for none. */
export function replacementOf(choice: string): Replacement | null {
  const [kind, id] = choice.split(" ");
  if (kind === "certificate" && id) return { kind, certificateId: id };
  if (kind === "calibration" && id) return { kind, calibrationId: id };
  return null;
}

/** What has already taken the subject's place, as the first proposal. */
export function proposedReplacement(subject: TraceSubject, bench: Bench): string {
  const by = bench.replacements.find((one) => one.certificateId === subject.id)?.replacedBy;
  return subject.kind === "certificate" && by ? `certificate ${by}` : "";
}
