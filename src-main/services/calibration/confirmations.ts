import type { CalibrationApproval } from "#core/contract/records/sign-off.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  findApproval,
  insertConfirmation,
  listApprovals,
  type StoredApproval,
} from "../../store/repositories/approval-repository.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";
import { requireCalibration } from "./require-calibration.ts";

function approvalOf({ inForce, ...stored }: StoredApproval, asked: boolean): CalibrationApproval {
  return { ...stored, confirmationWanted: asked && inForce && stored.confirmation === null };
}

/** What stands beside a calibration; null: there is no such calibration. */
export function approvalOfCalibration(db: ReadableDb, calibrationId: string): CalibrationApproval | null {
  const stored = findApproval(db, calibrationId);
  return stored ? approvalOf(stored, laboratorySettings(db).confirmCalibrations) : null;
}

export function isConfirmationWanted(db: ReadableDb, calibrationId: string): boolean {
  return approvalOfCalibration(db, calibrationId)?.confirmationWanted ?? false;
}

export function confirmationServices(deps: Deps) {
  return handlers({
    "calibrations.approvals": ({ trainId }) => {
      const asked = laboratorySettings(deps.db).confirmCalibrations;
      return listApprovals(deps.db, trainId).map((stored) => approvalOf(stored, asked));
    },

    "calibrations.confirm": (input, call) =>
      inTransactionOnceAbout<CalibrationApproval>(deps, call, input, {
        perform({ db, at, by, audit }) {
          const { calibrationId, words } = input;
          const field = "calibrationId";
          const calibration = requireCalibration(db, calibrationId);
          if (calibration.state !== "in force") {
            throw new Refusal("calibration.not-in-force", `That calibration is ${calibration.state}.`, {
              field,
            });
          }
          if (findApproval(db, calibrationId)?.confirmation) {
            throw new Refusal("calibration.confirmed", "That calibration has been confirmed already.", {
              field,
            });
          }
          if (by.id === calibration.personId || by.id === calibration.inForceBy) {
            throw new Refusal(
              "review.own-work",
              `${by.name} calibrated this train or put the factor in force.`,
              {
                field,
                hint: "Another person confirms it: choose who is at the bench, then confirm.",
              },
            );
          }
          insertConfirmation(db, calibrationId, { at, by: by.id, words });
          audit({
            act: "calibrations.confirm",
            subject: "calibration",
            subjectId: calibrationId,
            detail: { words, factor: calibration.result?.factor ?? null },
          });
          const approval = approvalOfCalibration(db, calibrationId);
          if (!approval) throw new Error(`calibration ${calibrationId} is missing after it was confirmed`);
          return approval;
        },
        subjectOf: (approval) => approval.calibrationId,
        find: approvalOfCalibration,
      }),
  });
}
