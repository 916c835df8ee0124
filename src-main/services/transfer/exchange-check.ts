import { rm } from "node:fs/promises";
import type { CheckReport } from "#core/contract/records/exchange.ts";
import type { TrailHead } from "#core/contract/records/trail.ts";
import { type PrintedHead, signedHeadsInText, UNSIGNED } from "#core/contract/records/trail-signature.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { type AboutFacts, aboutFacts } from "../../exchange/about-facts.ts";
import { type Comparison, compareWorkbooks } from "../../exchange/compare-workbooks.ts";
import { openWorkbookFile, UnreadableWorkbook, type WorkbookFile } from "../../exchange/workbook-file.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { hashAtLine } from "../../store/repositories/audit-trail.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { jointDigest } from "../../workbook/sheet-book/data-digest.ts";
import { writeJobWorkbook } from "../../workbook/sheet-book/workbook.ts";
import { WORKBOOK_LAYOUT } from "../../workbook/words/headings.ts";
import { compareSignatures } from "../records/head-signatures.ts";
import type { Deps } from "../write-context/deps.ts";
import { checkDocument, looksLikeJson } from "./exchange-check-json.ts";
import { withSheetBundles } from "./sheet-bundle.ts";

type File = { readonly path: string; readonly fileName: string };

/** @throws Refusal `file.unreadable` in place of what is wrong with the file */
export async function orUnreadable<T>(fileName: string, read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (!(error instanceof UnreadableWorkbook)) throw error;
    throw new Refusal("file.unreadable", `${fileName} could not be read: ${error.message}.`, {
      field: "uploadId",
      hint: "Open it in your spreadsheet, save it as an .xlsx workbook and try again.",
    });
  }
}

function notOurs(fileName: string, words: string, facts: readonly AboutFacts[]): CheckReport {
  return {
    fileName,
    verdict: "not ours",
    words,
    sheets: facts.map((one) => one.sheetId),
    exportedAt: facts[0]?.madeAt ?? null,
    program: facts[0] ? `${facts[0].program} ${facts[0].version}` : null,
    printedSha256: facts[0] ? jointDigest(facts.map((one) => one.dataSha256)) : null,
    presentSha256: null,
    cells: 0,
    differing: 0,
    differences: [],
  };
}

/** The head that the file names, as this bench knows that line: one that never was shows as a difference. */
function headAtLine(db: ReadableDb, head: TrailHead): TrailHead {
  const line = Number(head.split(":")[0]);
  return `${line}:${hashAtLine(db, line) ?? "no such line"}`;
}

/** The signature that the file bears where it was made over its head by a key of this bench; else what is expected. */
function signedAsNamed(db: ReadableDb, { trailHead, headSigned }: PrintedHead): string | null {
  if (headSigned !== null && Object.values<string>(UNSIGNED).includes(headSigned)) return headSigned;
  const signed = signedHeadsInText(headSigned ?? "").filter(({ head }) => head === trailHead);
  if (compareSignatures(db, signed).agreeing === 1) return headSigned;
  return trailHead && "a signature of this head by a key that the trail names";
}

/** Writes what an export of the same sheets would be now, with the instant and version the file names. */
async function compareWithBench(
  deps: Deps,
  file: WorkbookFile,
  { path }: File,
  facts: readonly AboutFacts[],
  first: AboutFacts,
  { signal, tell }: Following,
): Promise<{ comparison: Comparison; dataSha256: string }> {
  const expectedPath = `${path}.expected`;
  try {
    const ids = facts.map((one) => one.sheetId);
    const { dataSha256 } = await withSheetBundles(deps, ids, (bundles) => {
      const parts = bundles.reduce((sum, { sheet }) => sum + sheet.rowCount, 0);
      let done = 0;
      const advance = (rows: number): void => {
        done = Math.min(parts, done + rows);
        tell({ part: "writing the export again", done, parts });
      };
      return writeJobWorkbook(
        bundles.map((bundle) => ({
          ...bundle,
          bench: bundle.bench && {
            ...bundle.bench,
            trailHead: first.trailHead && headAtLine(deps.db, first.trailHead),
            headSigned: signedAsNamed(deps.db, first),
          },
          asOf: first.madeAt,
          program: { name: deps.program.name, version: first.version },
        })),
        { kind: first.kind, paper: first.paper, progress: { signal, advance } },
        expectedPath,
      );
    });
    const expected = await openWorkbookFile(expectedPath);
    try {
      return { comparison: await compareWorkbooks(file, expected, { signal, tell }), dataSha256 };
    } finally {
      await expected.close();
    }
  } finally {
    await rm(expectedPath, { force: true });
  }
}

function wordsOf(differing: number, sameData: boolean): string {
  if (differing === 0)
    return "This workbook is exactly what the bench would write today: nothing was changed.";
  const cells = differing === 1 ? "One cell differs" : `${differing} cells differ`;
  return sameData
    ? `The bench's data are as they were when it was exported, and ${cells.toLowerCase()}: the file was edited.`
    : `${cells} from the bench as it is now. The bench's data have changed since this export, so some differences may come from the bench.`;
}

/** Cells of another layout have other places: only the fingerprint can be held against the bench. */
function earlierLayoutWords(sameData: boolean): string {
  const data = sameData
    ? "The bench’s data are as they were when it was exported"
    : "The bench’s data have changed since this export";
  return `${data}. An earlier version of the program wrote this workbook, with its cells in other places, so they cannot be compared one by one: export the sheet again to see whether a figure was edited.`;
}

async function reportOn(
  deps: Deps,
  upload: File,
  file: WorkbookFile,
  following: Following,
): Promise<CheckReport> {
  const facts = await aboutFacts(file);
  const [first] = facts;
  const { fileName } = upload;
  if (first === undefined) return notOurs(fileName, "This workbook was not written by this program.", []);
  const sheets = facts.map((one) => findSheet(deps.db, one.sheetId));
  const numbers = sheets.flatMap((sheet) => (sheet ? [sheet.number] : []));
  if (numbers.length !== facts.length) {
    return notOurs(fileName, "This workbook names sheets that are not on this bench.", facts);
  }
  const { comparison, dataSha256 } = await compareWithBench(deps, file, upload, facts, first, following);
  const printedSha256 = jointDigest(facts.map((one) => one.dataSha256));
  const about = {
    fileName,
    sheets: numbers,
    exportedAt: first.madeAt,
    program: `${first.program} ${first.version}`,
    printedSha256,
    presentSha256: dataSha256,
  };
  if (facts.some((one) => one.layout !== WORKBOOK_LAYOUT)) {
    const words = earlierLayoutWords(dataSha256 === printedSha256);
    return { ...about, verdict: "earlier layout", words, cells: 0, differing: 0, differences: [] };
  }
  return {
    ...about,
    verdict: comparison.differing === 0 ? "unchanged" : "changed",
    words: wordsOf(comparison.differing, dataSha256 === printedSha256),
    cells: comparison.cells,
    differing: comparison.differing,
    differences: [...comparison.differences],
  };
}

/**
 * Says whether a file is still what was exported. A JSON file is held against the bench record by record. Of a workbook
 * the same export is made again from the bench and held against the file cell by cell, so that neither a changed number
 * nor a changed formula passes, nor a digest printed anew.
 * @throws Refusal `file.unreadable`
 */
export async function checkExportedFile(
  deps: Deps,
  upload: File,
  following: Following = UNFOLLOWED,
): Promise<CheckReport> {
  return orUnreadable(upload.fileName, async () => {
    if (await looksLikeJson(upload.path)) return checkDocument(deps, upload, following);
    const file = await openWorkbookFile(upload.path);
    try {
      return await reportOn(deps, upload, file, following);
    } finally {
      await file.close();
    }
  });
}
