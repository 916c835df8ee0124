import { basisOf } from "#core/calibration/calculation-basis.ts";
import type { CheckRecord } from "#core/contract/records/check.ts";
import type { DocumentSheet, SheetDocument } from "#core/contract/records/sheet-document.ts";
import { ASSESSMENT_RULE } from "#core/vocabulary/rules.ts";
import { bundleOfDocument, digestOfDocument } from "../../exchange/json-file.ts";
import { UnfitDocument } from "../../exchange/read-document.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import { historyDigest, verdictsDigest } from "../../workbook/sheet-book/data-digest.ts";
import { assessmentFromTyped } from "../calibration/calibration-result.ts";
import { checkFromTyped } from "../calibration/checks.ts";
import { Differences } from "../verification/differences.ts";
import { judged } from "../verification/verify-assessments.ts";
import { checkRecord, recomputed, verifyCertificate } from "../verification/verify-calibrations.ts";
import { createRecompute } from "../verification/verify-measurements.ts";
import { type DocumentRecords, recordsOf } from "./document-records.ts";
import { checkReferences } from "./document-references.ts";

/** The first version of the file that carries verdicts and checks. */
export const FIRST_WITH_VERDICTS = 7;

/** Verdicts and checks are as their digest says; a file of an earlier version has neither. */
export function verdictsAreWhole(document: SheetDocument, sheet: DocumentSheet): boolean {
  if (sheet.verdictsSha256 !== null) {
    return verdictsDigest(bundleOfDocument(document, sheet)) === sheet.verdictsSha256;
  }
  const { assessments, checks, overdueUses } = sheet;
  return (
    document.version < FIRST_WITH_VERDICTS && assessments.length + checks.length + overdueUses.length === 0
  );
}

/** @throws UnfitDocument when records were changed after the fingerprint was made */
function checkFingerprints(document: SheetDocument): void {
  document.sheets.forEach((sheet, at) => {
    if (digestOfDocument(document, sheet) !== sheet.dataSha256) {
      throw new UnfitDocument(
        `sheets[${at}].dataSha256`,
        "is not the fingerprint of the records beside it: the file was edited after it was exported",
      );
    }
    const bundle = bundleOfDocument(document, sheet);
    if (!verdictsAreWhole(document, sheet)) {
      throw new UnfitDocument(
        `sheets[${at}].verdictsSha256`,
        "is not the fingerprint of the verdicts and checks beside it: the file was edited",
      );
    }
    if (sheet.historySha256 === null && document.version === 1) return;
    if (historyDigest(bundle) !== sheet.historySha256) {
      throw new UnfitDocument(
        `sheets[${at}].historySha256`,
        "is not the fingerprint of the people, earlier results, sign-offs and pictures beside it: the file was edited",
      );
    }
  });
}

/** @throws UnfitDocument for the first result that does not follow from what was typed */
function refuseFirst({ listed }: Differences): void {
  const [first] = listed;
  if (first) {
    throw new UnfitDocument(
      first.where,
      `is ${first.stored} in the file, but what was typed gives ${first.expected}`,
    );
  }
}

/** What the rule in use finds of each calibration, and what each check gives. */
function checkVerdicts(records: DocumentRecords, differences: Differences): void {
  const { assessments, checks, calibrations, stageMicrometers, trains } = records;
  const certificateOf = ({
    stageMicrometerId,
    certificateId,
  }: Pick<CheckRecord, "stageMicrometerId" | "certificateId">) => {
    const micrometer = stageMicrometers.get(stageMicrometerId);
    const certificate = micrometer?.certificates.find(({ id }) => id === certificateId);
    if (!micrometer || !certificate) throw new Error("its stage micrometer or certificate is missing");
    return { micrometer, certificate };
  };
  for (const [id, kept] of assessments) {
    kept.forEach((one, at) => {
      if (one.rule !== ASSESSMENT_RULE) return;
      const where = `assessment ${kept.length - at} of calibration ${id}`;
      checkRecord(where, differences, () => {
        const calibration = calibrations.get(id);
        const train = trains.get(calibration?.trainId ?? "");
        if (!calibration?.result || !train) throw new Error("its calibration has no factor or no train");
        const { micrometer, certificate } = certificateOf(calibration);
        const earlier = calibrations.get(one.earlierId ?? "") ?? null;
        const { nominalFactor } = train;
        const basis = basisOf(calibration.result);
        const found = assessmentFromTyped(calibration, micrometer, certificate, basis, {
          nominalFactor,
          earlier,
        });
        const { at: _, by: __, reason: ___, calibrationId: ____, ...assessment } = one;
        differences.compare(where, judged(assessment), judged(found));
      });
    });
  }
  for (const check of checks.values()) {
    const where = `check ${check.id}`;
    checkRecord(where, differences, () => {
      const calibration = calibrations.get(check.calibrationId);
      if (!calibration) throw new Error("its calibration is missing");
      const { micrometer, certificate } = certificateOf(check);
      const { suspects: _, ...result } = check.result;
      const found = checkFromTyped(check, calibration, micrometer, certificate, basisOf(check.result));
      differences.compare(where, result, found);
    });
  }
}

/** Recomputes certificates, factors, verdicts, checks and sizes from what was typed, as verify does on a bench. */
async function checkResults(records: DocumentRecords): Promise<void> {
  const { stageMicrometers, calibrations, sheets } = records;
  const yieldToEvents = createYielder();
  const differences = new Differences();
  for (const { name, certificates } of stageMicrometers.values()) {
    for (const one of certificates) {
      const where = `certificate ${one.number} of ${name}`;
      checkRecord(where, differences, () => verifyCertificate(one, where, differences));
    }
  }
  for (const one of calibrations.values()) {
    const where = `calibration ${one.id}`;
    checkRecord(where, differences, () => {
      const micrometer = stageMicrometers.get(one.stageMicrometerId);
      const certificate = micrometer?.certificates.find(({ id }) => id === one.certificateId);
      if (!micrometer || !certificate) throw new Error("its stage micrometer or certificate is missing");
      differences.compare(where, one.result, recomputed(one, micrometer, certificate));
    });
    await yieldToEvents();
  }
  checkVerdicts(records, differences);
  refuseFirst(differences);
  for (const [at, { method, rows }] of sheets.entries()) {
    const recompute = createRecompute((id) => calibrations.get(id) ?? null, method);
    for (const row of rows) {
      for (const [index, one] of row.measurements.entries()) {
        const where = `sheets[${at}].rows[${row.ordinal - 1}].measurements[${index}]`;
        const { divisions, size } = one;
        checkRecord(where, differences, () =>
          differences.compare(where, { divisions, size }, recompute(one)),
        );
      }
      refuseFirst(differences);
      await yieldToEvents();
    }
  }
}

/**
 * The records of a document, once it has been found to be as it was exported: fingerprints, references, every result
 * from what was typed. Makes way for other work. @throws UnfitDocument naming the field
 */
export async function checkedRecords(document: SheetDocument): Promise<DocumentRecords> {
  checkFingerprints(document);
  const records = recordsOf(document);
  checkReferences(records);
  await checkResults(records);
  return records;
}
