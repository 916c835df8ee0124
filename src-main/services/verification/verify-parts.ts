import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import { nominalFactor } from "#core/optics/nominal-factor.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { wrongNameKeys } from "../../store/repositories/name-keys.ts";
import { trainsOfMicroscope } from "../../store/repositories/train-repository.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

interface Part {
  readonly id: string;
}

/** The parts of each microscope as told when it was registered and when parts were added, in that order. */
function partsFromTrail(acts: TrailIndex): Map<string, { objectives: Part[]; eyepieces: Part[] }> {
  const fromTrail = new Map<string, { objectives: Part[]; eyepieces: Part[] }>();
  const lines = acts.of(
    "microscopes.register",
    "microscopes.addObjective",
    "microscopes.addEyepiece",
    "documents.readIn",
  );
  for (const { subjectId, detail } of lines.filter((line) => line.subject === "microscope")) {
    const parts = fromTrail.get(subjectId) ?? { objectives: [], eyepieces: [] };
    const {
      objectives = [],
      eyepieces = [],
      objective,
      eyepiece,
    } = detail as Readonly<Record<string, unknown>>;
    parts.objectives.push(...(objectives as Part[]), ...(objective ? [objective as Part] : []));
    parts.eyepieces.push(...(eyepieces as Part[]), ...(eyepiece ? [eyepiece as Part] : []));
    fromTrail.set(subjectId, parts);
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
 * Every objective and eyepiece that was told is there and in its order; every pair of them makes one train with its
 * nominal factor; and names are found under the keys they make.
 */
export function verifyParts(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const fromTrail = partsFromTrail(acts);
  for (const microscope of listMicroscopes(db)) {
    const { objectives = [], eyepieces = [] } = fromTrail.get(microscope.id) ?? {};
    const ids = (parts: readonly Part[]): string[] => parts.map(({ id }) => id);
    // Objectives are shown by their place on the turret, whatever the order in which they came.
    differences.compare(
      `microscope ${microscope.name}, objectives`,
      ids(microscope.objectives).sort(),
      ids(objectives).sort(),
    );
    differences.compare(
      `microscope ${microscope.name}, eyepieces`,
      ids(microscope.eyepieces),
      ids(eyepieces),
    );
    verifyTrains(microscope, trainsOfMicroscope(db, microscope.id), differences);
  }
  for (const where of wrongNameKeys(db)) differences.add(where, "another key", "the key that its name makes");
}
