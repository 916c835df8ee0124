import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { CalibrationSwap } from "#core/contract/records/reevaluation.ts";
import type { Replacement } from "#core/contract/records/trace.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { insertRecalculation, recalculationOf } from "../../store/repositories/approval-repository.ts";
import { endCalibration, insertFrozen } from "../../store/repositories/calibration-repository.ts";
import { findCertificate } from "../../store/repositories/micrometer-repository.ts";
import { keepAssessment } from "../calibration/assessments.ts";
import type { Deps } from "../write-context/deps.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import type { ReachedCalibration } from "./trace-scope.ts";

interface Recalculating {
  readonly reevaluationId: string;
  readonly certificateId: string;
  readonly reason: string;
}

const LONGEST_REMARK = 4000;

function remarkOf({ record }: ReachedCalibration, number: string): string {
  const origin = `Recalculated from the settings of ${record.startedAt.slice(0, 10)} with certificate ${number}.`;
  return `${origin} ${record.remark}`.trim().slice(0, LONGEST_REMARK);
}

/** State and dates of the new one: it takes the place of one in force, and shares the end of one that has ended. */
function approvalFrom(
  { at, by }: WriteContext,
  old: CalibrationRecord,
): Pick<CalibrationRecord, "state" | "inForceAt" | "inForceBy" | "endedAt" | "endedBy" | "endReason"> {
  if (old.state === "in force") {
    return {
      state: "in force",
      inForceAt: at,
      inForceBy: by.id,
      endedAt: null,
      endedBy: null,
      endReason: null,
    };
  }
  const { state, inForceAt, endedAt, endedBy, endReason } = old;
  return { state, inForceAt, inForceBy: by.id, endedAt, endedBy, endReason };
}

/** Which calibration takes the place of another: one recalculated before, or the identifier of one to make. */
export function swapOf(
  deps: Pick<Deps, "ids">,
  db: ReadableDb,
  { record }: ReachedCalibration,
  replacement: Replacement,
): CalibrationSwap {
  if (replacement.kind === "calibration") return { from: record.id, to: replacement.calibrationId };
  return {
    from: record.id,
    to: recalculationOf(db, record.id, replacement.certificateId) ?? deps.ids.next(),
  };
}

/**
 * Makes the calibration that the same settings give with another certificate; the one there is keeps its result. One
 * that was in force is superseded by it. Nothing is done when it was made before.
 */
export function recalculate(
  ctx: WriteContext,
  reached: ReachedCalibration,
  id: string,
  { reevaluationId, certificateId, reason }: Recalculating,
): void {
  const { db, at, by, audit } = ctx;
  const { record: old, replacement } = reached;
  if (recalculationOf(db, old.id, certificateId)) return;
  const certificate = findCertificate(db, certificateId);
  if (!replacement || !certificate) throw new Error(`nothing to recalculate calibration ${old.id} with`);
  const made: CalibrationRecord = {
    ...old,
    id,
    certificateId,
    result: replacement,
    remark: remarkOf(reached, certificate.number),
    ...approvalFrom(ctx, old),
  };
  if (old.state === "in force") {
    const endReason = `Superseded by its recalculation with certificate ${certificate.number}: ${reason}`;
    endCalibration(db, old.id, { state: "superseded", at, by: by.id, reason: endReason });
    audit({
      act: "calibrations.supersede",
      subject: "calibration",
      subjectId: old.id,
      reason: endReason,
      detail: { from: old.state, to: "superseded" },
    });
  }
  insertFrozen(db, made);
  insertRecalculation(db, {
    calibrationId: made.id,
    fromCalibrationId: old.id,
    certificateId,
    reevaluationId,
  });
  const assessment = keepAssessment(ctx, made, reason);
  const { settings, conditions, estimator, coverage, dueOn } = made;
  audit({
    act: "calibrations.recalculate",
    subject: "calibration",
    subjectId: made.id,
    reason,
    detail: {
      settings,
      conditions,
      estimator,
      coverage,
      dueOn,
      factor: replacement.factor,
      expandedUncertainty: replacement.expandedUncertainty,
      pooled: replacement.pooled,
      assessment,
      recalculatedFrom: old.id,
      reevaluationId,
      remark: made.remark,
      certificateId,
      state: made.state,
    },
  });
}
