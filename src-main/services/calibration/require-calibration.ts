import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";

/** @throws Refusal `calibration.unknown` */
export function requireCalibration(db: ReadableDb, id: string, field = "calibrationId"): CalibrationRecord {
  const calibration = findCalibration(db, id);
  if (calibration) return calibration;
  throw new Refusal("calibration.unknown", "That calibration is not on this bench.", { field });
}
