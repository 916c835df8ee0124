import { isDeepStrictEqual } from "node:util";
import type { Eyes } from "#core/contract/records/eyes.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listEyes } from "../../store/repositories/eyes-repository.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { findTrainOf } from "../../store/repositories/train-repository.ts";
import { compareWithTrail, factsFromTrail, storedFacts } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

/** What people last said of dioptre, sleeve and glasses at each train. */
export function verifyEyes(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const where = (key: string): string => `eyes of person ${key.replace(" ", " at train ")}`;
  const told = acts.of("sheets.confirmTrain").flatMap((event) => {
    const { eyes, objectiveId, intermediateMagnification } = event.detail.confirmed;
    const sheet = findSheet(db, event.subjectId);
    const train = sheet && findTrainOf(db, { ...sheet, objectiveId, intermediateMagnification });
    return eyes ? [{ ...event, key: `${event.by} ${train?.id}`, eyes }] : [];
  });
  // A confirmation that says what was said before changes nothing, and the day of the first one stays.
  const last = new Map<string, Eyes>();
  const changes = told.filter(({ key, eyes }) => {
    const isSame = isDeepStrictEqual(last.get(key), eyes);
    last.set(key, eyes);
    return !isSame;
  });
  compareWithTrail(
    differences,
    storedFacts(
      listEyes(db, null),
      ({ personId, trainId }) => `${personId} ${trainId}`,
      ({ personId, trainId, ...fields }) => ({ where: where(`${personId} ${trainId}`), fields }),
    ),
    factsFromTrail(
      changes,
      ({ key }) => key,
      ({ key, eyes, at }) => ({ where: where(key), fields: { ...eyes, at } }),
    ),
  );
}
