import { open } from "node:fs/promises";
import type { CellDifference, CheckReport } from "#core/contract/records/exchange.ts";
import type { DocumentSheet, SheetDocument } from "#core/contract/records/sheet-document.ts";
import { bundleOfDocument, digestOfDocument } from "../../exchange/json-file.ts";
import { readDocument, UnfitDocument } from "../../exchange/read-document.ts";
import { UnreadableWorkbook } from "../../exchange/workbook-file.ts";
import type { Following } from "../../long-work/following.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { historyDigest, jointDigest, openDigest } from "../../workbook/sheet-book/data-digest.ts";
import type { SheetBundle } from "../../workbook/sheet-book/sheet-bundle-type.ts";
import type { Deps } from "../write-context/deps.ts";
import { FIRST_WITH_VERDICTS, verdictsAreWhole } from "./document-check.ts";
import { withSheetBundles } from "./sheet-bundle.ts";

const MOST_LISTED = 200;

/** A workbook begins with the letters of a zip file; what begins as an object may be our JSON. */
export async function looksLikeJson(path: string): Promise<boolean> {
  const file = await open(path, "r");
  try {
    const { buffer } = await file.read(Buffer.alloc(1), 0, 1, 0);
    return buffer[0] === 0x7b;
  } finally {
    await file.close();
  }
}

/** @throws UnreadableWorkbook in place of what is wrong with the file */
async function documentAt(path: string): Promise<SheetDocument> {
  try {
    return await readDocument(path);
  } catch (error) {
    throw error instanceof UnfitDocument ? new UnreadableWorkbook(error.message) : error;
  }
}

/** Data and history are as their digests say. */
function isIntact(document: SheetDocument): boolean {
  return document.sheets.every(
    (sheet) =>
      digestOfDocument(document, sheet) === sheet.dataSha256 &&
      verdictsAreWhole(document, sheet) &&
      (sheet.historySha256 === null
        ? document.version === 1
        : historyDigest(bundleOfDocument(document, sheet)) === sheet.historySha256),
  );
}

interface Found {
  records: number;
  differing: number;
  readonly differences: CellDifference[];
}

function compare(found: Found, worksheet: string, cell: string, theirs: unknown, ours: unknown): void {
  const [left, right] = [JSON.stringify(theirs) ?? "nothing", JSON.stringify(ours) ?? "nothing"];
  found.records += 1;
  if (left === right) return;
  found.differing += 1;
  if (found.differences.length < MOST_LISTED) {
    found.differences.push({ worksheet, cell, found: left.slice(0, 300), expected: right.slice(0, 300) });
  }
}

/** Holds one sheet's records against the bench. @returns the digest of what the bench has */
async function compareSheet(
  found: Found,
  sheet: DocumentSheet,
  theirs: SheetBundle,
  ours: SheetBundle,
  {
    carriesChecks,
    following: { signal, tell },
  }: { readonly carriesChecks: boolean; readonly following: Following },
): Promise<string> {
  const yieldToEvents = createYielder();
  const { number } = ours.sheet;
  for (const part of [
    "sheet",
    "method",
    "people",
    "microscope",
    "trains",
    "calibrations",
    "stageMicrometers",
  ] as const) {
    compare(found, number, part, theirs[part], ours[part]);
  }
  compare(found, number, "amendments", theirs.amendments, ours.amendments);
  if (sheet.historySha256 !== null) {
    compare(found, number, "signOffs", theirs.signOffs, ours.signOffs);
    if (carriesChecks) {
      compare(found, number, "assessments", theirs.assessments, ours.assessments);
      compare(found, number, "checks", theirs.checks, ours.checks);
    }
    compare(found, number, "earlier", [...theirs.earlier.results()], [...ours.earlier.results()]);
  }
  const digest = openDigest(ours);
  let at = 0;
  for (const row of ours.rows()) {
    digest.add(row);
    compare(found, number, `row ${row.ordinal}`, sheet.rows[at], row);
    at += 1;
    tell({ part: `comparing ${number}`, done: at, parts: Math.max(at, ours.sheet.rowCount) });
    await yieldToEvents();
    signal.throwIfAborted();
  }
  for (const row of sheet.rows.slice(at)) compare(found, number, `row ${row.ordinal}`, row, undefined);
  for (const line of ours.amendments) digest.add(line);
  return digest.hex();
}

function wordsOf({ differing }: Found, intact: boolean): string {
  if (!intact) return "The file's records do not agree with the digest written in it: the file was edited.";
  if (differing === 0) return "This file holds exactly what the bench holds today: nothing was changed.";
  return "The file is whole, as it was exported; the bench's data have changed since.";
}

/** Says whether a JSON file is still what was exported, and which records differ from the bench. @throws UnreadableWorkbook */
export async function checkDocument(
  deps: Deps,
  { path, fileName }: { readonly path: string; readonly fileName: string },
  following: Following,
): Promise<CheckReport> {
  const document = await documentAt(path);
  const ids = document.sheets.map(({ sheet }) => sheet.id);
  const printed = jointDigest(document.sheets.map((sheet) => sheet.dataSha256));
  const intact = isIntact(document);
  const facts = {
    fileName,
    sheets: document.sheets.map(({ sheet }) => sheet.number),
    exportedAt: document.madeAt,
    program: `${document.program.name} ${document.program.version}`,
    printedSha256: printed,
  };
  const carriesChecks = document.version >= FIRST_WITH_VERDICTS;
  const found: Found = { records: 0, differing: 0, differences: [] };
  if (ids.some((id) => findSheet(deps.db, id) === null)) {
    const words = `The sheets of this file are not on this bench. ${intact ? "Its records agree with the digest written in it." : wordsOf(found, false)}`;
    const nothing = { presentSha256: null, cells: 0, differing: 0, differences: [] };
    return { ...facts, ...nothing, verdict: intact ? "not ours" : "changed", words };
  }
  const present = await withSheetBundles(deps, ids, async (bundles) => {
    const digests: string[] = [];
    for (const [at, ours] of bundles.entries()) {
      const sheet = document.sheets[at];
      if (sheet)
        digests.push(
          await compareSheet(found, sheet, bundleOfDocument(document, sheet), ours, {
            carriesChecks,
            following,
          }),
        );
    }
    return jointDigest(digests);
  });
  return {
    ...facts,
    verdict: intact && found.differing === 0 ? "unchanged" : "changed",
    words: wordsOf(found, intact),
    presentSha256: present,
    cells: found.records,
    differing: found.differing,
    differences: found.differences,
  };
}
