import { basisOf } from "#core/calibration/calculation-basis.ts";
import type { Assessment } from "#core/contract/records/assessment.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { CalibrationApproval } from "#core/contract/records/sign-off.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { insertAssessment } from "../../store/repositories/assessment-repository.ts";
import { calibrationBefore } from "../../store/repositories/calibration-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout, type WriteContext } from "../write-context/in-transaction.ts";
import { assessmentFromTyped } from "./calibration-result.ts";
import { approvalOfCalibration } from "./confirmations.ts";
import { repeatabilityFor, scattersKnown } from "./repeatability.ts";
import { requireCalibration } from "./require-calibration.ts";

/**
 * What the rule in use says of a calibration with a result, against `earlier`.
 * @throws Error when its train, micrometer or certificate is missing
 */
export function assess(
  db: ReadableDb,
  calibration: CalibrationRecord,
  earlier: CalibrationRecord | null,
): Assessment {
  const micrometer = findMicrometer(db, calibration.stageMicrometerId);
  const certificate = micrometer?.certificates.find((one) => one.id === calibration.certificateId);
  const train = findTrain(db, calibration.trainId);
  if (!calibration.result || !micrometer || !certificate || !train) {
    throw new Error(`calibration ${calibration.id} lacks its result, train or certificate`);
  }
  const { nominalFactor } = train;
  const basis = basisOf(calibration.result);
  return assessmentFromTyped(calibration, micrometer, certificate, basis, { nominalFactor, earlier });
}

/** Assesses a calibration and keeps it beside the assessments before. @returns the assessment, for the trail */
export function keepAssessment(
  { db, at, by }: Pick<WriteContext, "db" | "at" | "by">,
  calibration: CalibrationRecord,
  reason: string,
): Assessment {
  const earlier = calibration.inForceAt
    ? calibrationBefore(db, calibration.trainId, calibration.inForceAt, calibration.id)
    : null;
  const assessment = assess(db, calibration, earlier);
  insertAssessment(db, calibration.id, { ...assessment, at, by: by.id, reason });
  return assessment;
}

export function assessmentServices(deps: Deps) {
  return handlers({
    "calibrations.repeatability": ({ personId }) => repeatabilityFor(deps.db, personId),
    "calibrations.scatters": ({ personId }) => scattersKnown(deps.db, personId),

    "calibrations.assess": (input, call) =>
      inTransactionOnceAbout<CalibrationApproval>(deps, call, input, {
        perform(ctx) {
          const { calibrationId, reason } = input;
          const field = "calibrationId";
          const calibration = requireCalibration(ctx.db, calibrationId);
          if (!calibration.result) {
            throw new Refusal("calibration.no-factor", "That calibration has no factor to assess yet.", {
              field,
              hint: "A draft is assessed as it is typed, and when it is put in force.",
            });
          }
          const assessment = keepAssessment(ctx, calibration, reason);
          ctx.audit({
            act: "calibrations.assess",
            subject: "calibration",
            subjectId: calibrationId,
            reason,
            detail: { assessment },
          });
          const approval = approvalOfCalibration(ctx.db, calibrationId);
          if (!approval) throw new Error(`calibration ${calibrationId} is missing after it was assessed`);
          return approval;
        },
        subjectOf: (approval) => approval.calibrationId,
        find: approvalOfCalibration,
      }),
  });
}
