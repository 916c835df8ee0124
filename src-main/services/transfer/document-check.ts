import type { SheetDocument } from "#core/contract/records/sheet-document.ts";
import { bundleOfDocument, digestOfDocument } from "../../exchange/json-file.ts";
import { UnfitDocument } from "../../exchange/read-document.ts";
import { createBreather } from "../../pace/yield-to-events.ts";
import { historyDigest } from "../../workbook/sheet-book/data-digest.ts";
import { Differences } from "../verification/differences.ts";
import { checkRecord, recomputed, verifyCertificate } from "../verification/verify-calibrations.ts";
import { createRecompute } from "../verification/verify-measurements.ts";
import { type DocumentRecords, recordsOf } from "./document-records.ts";
import { checkReferences } from "./document-references.ts";

/** @throws UnfitDocument when records were changed after the fingerprint was made */
function checkFingerprints(document: SheetDocument): void {
  document.sheets.forEach((sheet, at) => {
    if (digestOfDocument(document, sheet) !== sheet.dataSha256) {
      throw new UnfitDocument(
        `sheets[${at}].dataSha256`,
        "is not the fingerprint of the records beside it: the file was edited after it was exported",
      );
    }
    if (sheet.historySha256 === null && document.version === 1) return;
    if (historyDigest(bundleOfDocument(document, sheet)) !== sheet.historySha256) {
      throw new UnfitDocument(
        `sheets[${at}].historySha256`,
        "is not the fingerprint of the people, earlier results and sign-offs beside it: the file was edited",
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

/** Recomputes certificates, factors and sizes from what was typed, as verify does on a bench. */
async function checkResults({ stageMicrometers, calibrations, sheets }: DocumentRecords): Promise<void> {
  const breathe = createBreather();
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
    await breathe();
  }
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
      await breathe();
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
