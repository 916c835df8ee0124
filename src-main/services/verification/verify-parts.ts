import type { Eyepiece, Microscope, Objective, OpticalTrain } from "#core/contract/records/microscope.ts";
import { nominalFactor } from "#core/optics/nominal-factor.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { wrongNameKeys } from "../../store/repositories/name-keys.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import { correctedBy } from "./corrected-detail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

type Told<P> = Map<string, P>;

/** Parts by their identifiers, in the order in which they came. */
interface Parts {
  readonly objectives: Told<Objective>;
  readonly eyepieces: Told<Eyepiece>;
}

const NO_PARTS = (): Parts => ({ objectives: new Map(), eyepieces: new Map() });

/** The parts of each microscope as told when it was registered and when parts were added, in that order. */
function partsFromTrail(acts: TrailIndex): Map<string, Parts> {
  const fromTrail = new Map<string, Parts>();
  for (const { act, subjectId, detail } of acts.made(
    "microscope",
    "microscopes.register",
    "microscopes.addObjective",
    "microscopes.addEyepiece",
  )) {
    const { objectives, eyepieces } = fromTrail.get(subjectId) ?? NO_PARTS();
    if (act === "microscopes.addObjective") objectives.set(detail.objective.id, detail.objective);
    else if (act === "microscopes.addEyepiece") eyepieces.set(detail.eyepiece.id, detail.eyepiece);
    else {
      for (const objective of detail.objectives) objectives.set(objective.id, objective);
      for (const eyepiece of detail.eyepieces) eyepieces.set(eyepiece.id, eyepiece);
    }
    fromTrail.set(subjectId, { objectives, eyepieces });
  }
  for (const { subjectId, detail } of acts.of("microscopes.replaceObjective")) {
    const { on, objective } = detail;
    const { objectives } = fromTrail.get(objective.microscopeId) ?? NO_PARTS();
    const left = objectives.get(subjectId);
    if (left) objectives.set(subjectId, { ...left, replaced: { on, by: objective.id } });
    objectives.set(objective.id, objective);
  }
  return fromTrail;
}

function verifyTrains(
  microscope: Microscope,
  trains: readonly OpticalTrain[],
  differences: Differences,
): void {
  const expected = new Map<string, object>();
  for (const eyepiece of microscope.eyepieces) {
    for (const objective of microscope.objectives) {
      for (const intermediate of microscope.intermediateMagnifications) {
        const factor = nominalFactor({
          reticleLengthMm: decimal(eyepiece.reticle.scaleLengthMm),
          divisions: eyepiece.reticle.divisions,
          objective: decimal(objective.magnification),
          intermediate: decimal(intermediate),
        });
        expected.set(`${eyepiece.id} ${objective.id} ${intermediate}`, {
          reticleId: eyepiece.reticle.id,
          nominalFactor: textOfDecimal(factor),
        });
      }
    }
  }
  for (const {
    eyepieceId,
    objectiveId,
    intermediateMagnification,
    reticleId,
    nominalFactor: nominal,
  } of trains) {
    const key = `${eyepieceId} ${objectiveId} ${intermediateMagnification}`;
    const where = `train of ${microscope.name}, ${key}`;
    differences.compare(where, { reticleId, nominalFactor: nominal }, expected.get(key) ?? null);
    expected.delete(key);
  }
  for (const key of expected.keys()) {
    differences.add(`train of ${microscope.name}, ${key}`, "no record", "one for every pair of its parts");
  }
}

/**
 * Every objective and eyepiece that was told is there as it was told, and in its order; every pair of them makes one train with its
 * nominal factor; and names are found under the keys they make.
 */
export function verifyParts(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const fromTrail = partsFromTrail(acts);
  const corrections = acts.corrections();
  for (const microscope of listMicroscopes(db)) {
    const { objectives, eyepieces } = fromTrail.get(microscope.id) ?? NO_PARTS();
    const ids = (parts: readonly { readonly id: string }[]): string[] => parts.map(({ id }) => id);
    for (const part of [...microscope.objectives, ...microscope.eyepieces]) {
      const what = "position" in part ? `objective in position ${part.position}` : `eyepiece ${part.name}`;
      const told = objectives.get(part.id) ?? eyepieces.get(part.id) ?? null;
      differences.compare(
        `microscope ${microscope.name}, ${what}`,
        part,
        told && correctedBy<object>(told, corrections.get(part.id) ?? []),
      );
    }
    // Objectives are shown by their place on the turret, whatever the order in which they came.
    differences.compare(
      `microscope ${microscope.name}, objectives`,
      ids(microscope.objectives).sort(),
      [...objectives.keys()].sort(),
    );
    differences.compare(`microscope ${microscope.name}, eyepieces`, ids(microscope.eyepieces), [
      ...eyepieces.keys(),
    ]);
    verifyTrains(microscope, trainsOfMicroscope(db, microscope.id), differences);
  }
  for (const where of wrongNameKeys(db)) differences.add(where, "another key", "the key that its name makes");
}
