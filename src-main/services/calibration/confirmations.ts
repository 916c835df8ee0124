import type { CalibrationStanding } from "#core/contract/records/sign-off.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { laboratorySettings } from "../../store/repositories/laboratory-repository.ts";
import {
  findStanding,
  insertConfirmation,
  listStandings,
  type StoredStanding,
} from "../../store/repositories/standing-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout } from "../write-context/in-transaction.ts";

function standingOf({ inForce, ...stored }: StoredStanding, asked: boolean): CalibrationStanding {
  return { ...stored, confirmationWanted: asked && inForce && stored.confirmation === null };
}

/** What stands beside a calibration; null: there is no such calibration. */
export function standingOfCalibration(db: ReadableDb, calibrationId: string): CalibrationStanding | null {
  const stored = findStanding(db, calibrationId);
  return stored ? standingOf(stored, laboratorySettings(db).confirmCalibrations) : null;
}

export function isConfirmationWanted(db: ReadableDb, calibrationId: string): boolean {
  return standingOfCalibration(db, calibrationId)?.confirmationWanted ?? false;
}

export function confirmationServices(
  deps: Deps,
): HandlersOf<"calibrations.standings" | "calibrations.confirm"> {
  return {
    "calibrations.standings": ({ trainId }) => {
      const asked = laboratorySettings(deps.db).confirmCalibrations;
      return listStandings(deps.db, trainId).map((stored) => standingOf(stored, asked));
    },

    "calibrations.confirm": (input) =>
      inTransactionOnceAbout<CalibrationStanding>(deps, "calibrations.confirm", input, {
        perform({ db, at, by, audit }) {
          const { calibrationId, words } = input;
          const field = "calibrationId";
          const calibration = findCalibration(db, calibrationId);
          if (!calibration) {
            throw new Refusal("calibration.unknown", "That calibration is not on this bench.", { field });
          }
          if (calibration.state !== "in force") {
            throw new Refusal("calibration.not-in-force", `That calibration is ${calibration.state}.`, {
              field,
            });
          }
          if (findStanding(db, calibrationId)?.confirmation) {
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
            subject: "calibration",
            subjectId: calibrationId,
            detail: { words, factor: calibration.result?.factor ?? null },
          });
          const standing = standingOfCalibration(db, calibrationId);
          if (!standing) throw new Error(`calibration ${calibrationId} is missing after it was confirmed`);
          return standing;
        },
        subjectOf: (standing) => standing.calibrationId,
        find: standingOfCalibration,
      }),
  };
}
