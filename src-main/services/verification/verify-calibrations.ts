import { basisOf } from "#core/calibration/calculation-basis.ts";
import { linesFromTable } from "#core/calibration/certificate-table.ts";
import type { CalibrationRecord, FactorRecord } from "#core/contract/records/calibration.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import { readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { calibrationIds, findCalibration } from "../../store/repositories/calibration-repository.ts";
import { findMicrometer, listMicrometers } from "../../store/repositories/micrometer-repository.ts";
import { factorFromTyped } from "../calibration/calibration-result.ts";
import type { Differences } from "./differences.ts";

type YieldToEvents = ReturnType<typeof createYielder>;

/** Runs a step of checking one record; a record that cannot be read or recomputed is a difference, not a failure. */
export function checkRecord(where: string, differences: Differences, check: () => void): void {
  try {
    check();
  } catch (error) {
    differences.addUnreadable(where, error);
  }
}

/** Compares the table of a certificate with what was typed from it. */
export function verifyCertificate(certificate: Certificate, where: string, differences: Differences): void {
  const read = certificate.lines.map((line) => ({
    nominal: readDecimal("nominal", line.typedNominal).value,
    value: readDecimal("value", line.typedValue).value,
  }));
  linesFromTable(certificate.sign, read).forEach((line, i) => {
    const stored = certificate.lines[i];
    differences.compare(`${where}, line ${i + 1}, nominal`, stored?.nominal, textOfDecimal(line.nominal));
    differences.compare(`${where}, line ${i + 1}, error`, stored?.error, textOfDecimal(line.error));
  });
}

type Frozen = Extract<
  ToldEvent<"calibrations.putInForce" | "calibrations.recalculate" | "documents.readIn">,
  { readonly subject: "calibration" }
>;

/** Whether it froze a result. */
const isFrozen = (event: ToldEvent): event is Frozen =>
  event.act === "calibrations.putInForce" ||
  event.act === "calibrations.recalculate" ||
  (event.act === "documents.readIn" && event.subject === "calibration");

/** By the rule and the repeatability that the record keeps. */
export function recomputed(
  calibration: CalibrationRecord,
  micrometer: StageMicrometer,
  certificate: Certificate,
): FactorRecord | null {
  const { result } = calibration;
  return result && factorFromTyped(calibration, micrometer, certificate, basisOf(result));
}

function verifyCalibration(
  db: ReadableDb,
  calibration: CalibrationRecord,
  micrometer: StageMicrometer | null,
  where: string,
  differences: Differences,
): void {
  const certificate = micrometer?.certificates.find((one) => one.id === calibration.certificateId);
  if (!micrometer || !certificate) throw new Error("its stage micrometer or certificate is missing");
  differences.compare(where, calibration.result, recomputed(calibration, micrometer, certificate));
  const fromTrail = eventsOf(db, calibration.id).find(isFrozen);
  if (!fromTrail) {
    differences.add(`${where}, trail`, "no line", "a line that it was put in force");
    return;
  }
  const { settings, conditions, estimator, coverage, dueOn, factor, pooled } = fromTrail.detail;
  differences.compare(
    `${where}, as told by trail line ${fromTrail.sequence}`,
    {
      settings: calibration.settings,
      conditions: calibration.conditions,
      estimator: calibration.estimator,
      coverage: calibration.coverage,
      dueOn: calibration.dueOn,
      factor: calibration.result?.factor,
      pooled: calibration.result?.pooled,
    },
    { settings, conditions, estimator, coverage, dueOn, factor, pooled },
  );
}

/**
 * Recomputes every certificate's table from what was typed and every factor from its typed settings, and compares the
 * settings with what the trail tells. @returns how many calibrations with a result there are
 */
export async function verifyCalibrations(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<number> {
  for (const micrometer of listMicrometers(db)) {
    for (const certificate of micrometer.certificates) {
      const where = `certificate ${certificate.number} of ${micrometer.name}`;
      checkRecord(where, differences, () => verifyCertificate(certificate, where, differences));
      await yieldToEvents();
    }
  }
  let count = 0;
  for (const id of calibrationIds(db)) {
    const where = `calibration ${id}`;
    checkRecord(where, differences, () => {
      const calibration = findCalibration(db, id);
      if (!calibration?.result) return;
      count += 1;
      const micrometer = findMicrometer(db, calibration.stageMicrometerId);
      verifyCalibration(db, calibration, micrometer, where, differences);
    });
    await yieldToEvents();
  }
  return count;
}
