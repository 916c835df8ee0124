import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listApprovals, listRecalculations } from "../../store/repositories/approval-repository.ts";
import { calibrationIds, findCalibration } from "../../store/repositories/calibration-repository.ts";
import {
  compareWithTrail,
  factsFromTrail,
  type StoredFact,
  storedFacts,
  type TrailFact,
} from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { Made, TrailIndex } from "./trail-index.ts";

const where = (id: string): string => `calibration ${id}`;
const NOT_ENDED = { endedAt: null, endedBy: null, endReason: null };

const LIFE_ACTS = [
  "calibrations.begin",
  "calibrations.putInForce",
  "calibrations.recalculate",
  "calibrations.supersede",
  "calibrations.withdraw",
] as const;
type LifeEvent = Made<(typeof LIFE_ACTS)[number], "calibration">;

/** What a line says of a calibration's life; of one recalculated from another also what the two share. */
function lifeIn(
  { act, at, by, reason, detail }: LifeEvent,
  lives: ReadonlyMap<string, TrailFact>,
): StoredFact["fields"] {
  switch (act) {
    case "calibrations.begin": {
      const { trainId, stageMicrometerId, certificateId } = detail;
      const begun = { trainId, stageMicrometerId, certificateId, startedAt: at, personId: by };
      return { ...begun, state: "draft", inForceAt: null, inForceBy: null, ...NOT_ENDED };
    }
    case "calibrations.putInForce":
      return { state: "in force", inForceAt: at, inForceBy: by, remark: detail.remark };
    case "calibrations.recalculate":
      return recalculated(detail, at, by, lives);
    case "documents.readIn": {
      const { factor, expandedUncertainty, readIn, id, pooled, assessments, ...typed } = detail;
      return typed;
    }
    default:
      return { state: detail.to, endedAt: at, endedBy: by, endReason: reason };
  }
}

function recalculated(
  detail: ToldEvent<"calibrations.recalculate">["detail"],
  at: string,
  by: string | null,
  lives: ReadonlyMap<string, TrailFact>,
): StoredFact["fields"] {
  const old = lives.get(detail.recalculatedFrom)?.fields ?? {};
  const { trainId, stageMicrometerId, startedAt, personId, inForceAt, endedAt, endedBy, endReason } = old;
  const shared = { trainId, stageMicrometerId, startedAt, personId };
  const own = { certificateId: detail.certificateId, remark: detail.remark, state: detail.state };
  return detail.state === "in force"
    ? { ...shared, ...own, inForceAt: at, inForceBy: by, ...NOT_ENDED }
    : { ...shared, ...own, inForceAt, inForceBy: by, endedAt, endedBy, endReason };
}

function livesFromTrail(acts: TrailIndex): Map<string, TrailFact> {
  const lives = new Map<string, TrailFact>();
  for (const line of acts.made("calibration", ...LIFE_ACTS)) {
    const { subjectId, sequence } = line;
    const fields = { ...lives.get(subjectId)?.fields, ...lifeIn(line, lives) };
    lives.set(subjectId, { where: where(subjectId), sequence, fields });
  }
  return lives;
}

function storedLife(calibration: CalibrationRecord): StoredFact {
  const { result: _, ...fields } = calibration;
  return { where: where(calibration.id), fields };
}

/** Who began, put in force, superseded or withdrew each calibration, when and why, and what it belongs to. */
export function verifyCalibrationLives(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const stored = new Map<string, StoredFact>();
  for (const id of calibrationIds(db)) {
    const calibration = findCalibration(db, id);
    if (calibration) stored.set(id, storedLife(calibration));
  }
  compareWithTrail(differences, stored, livesFromTrail(acts));
}

/** Confirmations by a second person, and from what the recalculated ones were made. */
export function verifyCalibrationApprovals(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  compareWithTrail(
    differences,
    storedFacts(
      listApprovals(db, null).filter((one) => one.confirmation !== null),
      (one) => one.calibrationId,
      ({ calibrationId, confirmation }) => ({
        where: `confirmation of ${where(calibrationId)}`,
        fields: { ...confirmation },
      }),
    ),
    factsFromTrail(
      acts.of("calibrations.confirm"),
      (line) => line.subjectId,
      ({ subjectId, at, by, detail }) => ({
        where: `confirmation of ${where(subjectId)}`,
        fields: { at, by, words: detail.words },
      }),
    ),
  );
  compareWithTrail(
    differences,
    storedFacts(
      listRecalculations(db),
      (one) => one.calibrationId,
      ({ calibrationId, ...fields }) => ({ where: `origin of ${where(calibrationId)}`, fields }),
    ),
    factsFromTrail(
      acts.of("calibrations.recalculate"),
      (line) => line.subjectId,
      ({ subjectId, detail }) => ({
        where: `origin of ${where(subjectId)}`,
        fields: {
          from: detail.recalculatedFrom,
          certificateId: detail.certificateId,
          reevaluationId: detail.reevaluationId,
        },
      }),
    ),
  );
}
