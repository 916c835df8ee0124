import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";
import { verifyAssessments } from "./verify-assessments.ts";
import { verifyCalibrationApprovals, verifyCalibrationLives } from "./verify-calibration-lives.ts";
import { verifyCountNumbers, verifyRecountActs } from "./verify-count-heads.ts";
import {
  verifyAttachmentActs,
  verifyCheckActs,
  verifyEvents,
  verifyReplacements,
  verifyServiceStates,
} from "./verify-equipment.ts";
import { verifyEyes } from "./verify-eyes.ts";
import {
  verifyConfirmations,
  verifyPinResets,
  verifyPins,
  verifySettings,
  verifyTolerances,
} from "./verify-laboratory.ts";
import { verifyOverdueUses } from "./verify-overdue-uses.ts";
import { verifyParts } from "./verify-parts.ts";
import { verifyPractice, verifyPracticeCertificates, verifyPracticeClasses } from "./verify-practice.ts";
import { verifyRegistrations } from "./verify-registrations.ts";
import { verifySecondReadingActs } from "./verify-second-acts.ts";
import { verifyReevaluations, verifySheetHeads, verifySignOffActs } from "./verify-sheet-acts.ts";
import { verifyStandings } from "./verify-standings.ts";

type Verify = (db: ReadableDb, acts: TrailIndex, differences: Differences) => void;

const BY_ACTS: Readonly<Record<string, Verify>> = {
  "settings of the laboratory": verifySettings,
  tolerances: verifyTolerances,
  PINs: verifyPins,
  confirmations: verifyConfirmations,
  "resets of PINs": verifyPinResets,
  "standings of people": verifyStandings,
  registers: verifyRegistrations,
  "parts of microscopes": verifyParts,
  "service states": verifyServiceStates,
  events: verifyEvents,
  "replaced certificates": verifyReplacements,
  attachments: verifyAttachmentActs,
  checks: verifyCheckActs,
  "lives of calibrations": verifyCalibrationLives,
  "standings of calibrations": verifyCalibrationApprovals,
  assessments: verifyAssessments,
  "what was used overdue": verifyOverdueUses,
  sheets: verifySheetHeads,
  "eyes of people at trains": verifyEyes,
  "sign-offs": verifySignOffActs,
  "second readings": verifySecondReadingActs,
  "re-evaluations": verifyReevaluations,
  counts: verifyCountNumbers,
  recounts: verifyRecountActs,
  practice: verifyPractice,
  "certificates of practice": verifyPracticeCertificates,
  "classes of practice": verifyPracticeClasses,
};

/** Holds every record against the acts that the trail tells of it, and every act against its record. */
export async function verifyActs(
  db: ReadableDb,
  acts: TrailIndex,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
): Promise<void> {
  for (const [what, verify] of Object.entries(BY_ACTS)) {
    try {
      verify(db, acts, differences);
    } catch (error) {
      differences.addUnreadable(what, error);
    }
    await yieldToEvents();
  }
}
