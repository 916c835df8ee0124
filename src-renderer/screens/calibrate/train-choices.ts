import {
  type AdvisedMicrometer,
  adviseMicrometers,
  type MicrometerAdvice,
} from "#core/calibration/micrometer-adviser.ts";
import type { BenchOverview, TrainStatus } from "#core/contract/records/bench.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { objectiveWords, trainWords } from "#core/optics/train-name.ts";
import { decimal } from "#core/quantity/decimal.ts";

export interface TrainChoice {
  readonly status: TrainStatus;
  readonly microscope: Microscope;
  /** `Stand A · 2 · 40×/0.65`, and what tells it from others of the same objective. */
  readonly words: string;
}

/** Every train of the bench whose objective is on its turret, by stand and position. */
export function trainChoices(overview: BenchOverview): readonly TrainChoice[] {
  return overview.microscopes.flatMap(({ microscope, trains }) =>
    trains
      .flatMap((status) => {
        const objective = microscope.objectives.find((one) => one.id === status.train.objectiveId);
        if (!objective || objective.replaced) return [];
        const more = trainWords(microscope, status.train);
        const words = `${microscope.name} · ${objective.position} · ${objectiveWords(objective)}${more ? ` · ${more}` : ""} — ${status.state}`;
        return [{ status, microscope, words, position: objective.position }];
      })
      .sort((a, b) => a.position - b.position),
  );
}

/** The certificate of a micrometer that was issued last. */
export function newestCertificate(micrometer: StageMicrometer): Certificate | undefined {
  return [...micrometer.certificates].sort((a, b) => b.calibratedOn.localeCompare(a.calibratedOn))[0];
}

export interface RankedMicrometer {
  readonly micrometer: StageMicrometer;
  readonly certificate: Certificate | undefined;
  readonly advice: MicrometerAdvice;
}

/** The micrometers in the order the adviser puts them for a train, with its reasons. */
export function rankMicrometers(
  choice: TrainChoice,
  micrometers: readonly StageMicrometer[],
  today: string,
): readonly RankedMicrometer[] {
  const { train, inForce } = choice.status;
  const eyepiece = choice.microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  if (!eyepiece) return [];
  const factor = decimal(inForce?.result?.factor ?? train.nominalFactor);
  const advised = micrometers.map((micrometer): AdvisedMicrometer => {
    const certificate = newestCertificate(micrometer);
    return {
      id: micrometer.id,
      name: micrometer.name,
      scaleLengthUm: decimal(micrometer.scaleLengthUm),
      divisions: micrometer.divisions,
      expandedUncertainty: certificate ? decimal(certificate.expandedUncertainty) : null,
      certificateDueOn: certificate?.dueOn ?? null,
    };
  });
  return adviseMicrometers(advised, factor, eyepiece.reticle.divisions, today).flatMap((advice) => {
    const micrometer = micrometers.find((one) => one.id === advice.id);
    return micrometer ? [{ micrometer, certificate: newestCertificate(micrometer), advice }] : [];
  });
}
