import type { Assessment } from "#core/contract/records/assessment.ts";
import { ASSESSMENT_RULE } from "#core/vocabulary/rules.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listAssessments } from "../../store/repositories/assessment-repository.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { assess } from "../calibration/assessments.ts";
import { compareWithTrail, type StoredFact, type TrailFact } from "./compare-with-trail.ts";
import type { Differences } from "./differences.ts";
import type { Made, TrailIndex } from "./trail-index.ts";
import { checkRecord } from "./verify-calibrations.ts";

const TOLD_BY = ["calibrations.putInForce", "calibrations.recalculate", "calibrations.assess"] as const;

type Told = Made<(typeof TOLD_BY)[number], "calibration">;

const where = (calibrationId: string, ordinal: number): string =>
  `assessment ${ordinal} of calibration ${calibrationId}`;

/** Assessments as the lines that made them tell; lines older than assessments tell of none. */
function assessmentsFromTrail(acts: TrailIndex): Map<string, TrailFact> {
  const fromTrail = new Map<string, TrailFact>();
  const counts = new Map<string, number>();
  for (const line of acts.made("calibration", ...TOLD_BY)) {
    const { subjectId, sequence } = line;
    for (const fields of assessmentsIn(line)) {
      const ordinal = (counts.get(subjectId) ?? 0) + 1;
      counts.set(subjectId, ordinal);
      const here = where(subjectId, ordinal);
      fromTrail.set(here, { where: here, sequence, fields });
    }
  }
  return fromTrail;
}

/** The one that was made by an act; of a file those that came in it, which say themselves by whom, when and why. */
function assessmentsIn({ act, detail, at, by, reason }: Told): TrailFact["fields"][] {
  if (act === "documents.readIn") {
    const { assessments = [] } = detail;
    return assessments.map(({ at, by, reason, ...kept }) => ({ assessment: kept, at, by, reason }));
  }
  const { assessment } = detail;
  return assessment === undefined ? [] : [{ assessment, at, by, reason }];
}

/**
 * Who assessed each calibration, when, why and with what outcome, as the trail tells it; and that what was typed still
 * leads to the assessments of the rule in use.
 */
export function verifyAssessments(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const stored = new Map<string, StoredFact>();
  for (const { calibrationId, ordinal, assessment: kept } of listAssessments(db)) {
    const { at, by, reason, ...assessment } = kept;
    const here = where(calibrationId, ordinal);
    stored.set(here, { where: here, fields: { assessment, at, by, reason } });
    if (assessment.rule === ASSESSMENT_RULE) {
      checkRecord(here, differences, () =>
        differences.compare(here, judged(assessment), judged(recomputed(db, calibrationId, assessment))),
      );
    }
  }
  compareWithTrail(differences, stored, assessmentsFromTrail(acts));
}

/** What was found, without the words it is said in, which the trail holds: a later version may say it better. */
export function judged({ findings, remarks, ...rest }: Assessment): object {
  return { ...rest, findings: findings.map(({ key, state }) => ({ key, state })), remarks: remarks.length };
}

function recomputed(db: ReadableDb, calibrationId: string, { earlierId }: Assessment): Assessment {
  const calibration = findCalibration(db, calibrationId);
  const earlier = earlierId === null ? null : findCalibration(db, earlierId);
  if (!calibration || (earlierId !== null && !earlier)) throw new Error("what it compares is missing");
  return assess(db, calibration, earlier);
}
