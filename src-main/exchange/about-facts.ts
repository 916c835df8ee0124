import type { Paper } from "#core/contract/records/exchange.ts";
import { TrailHead } from "#core/contract/records/trail.ts";
import { isHeadSigned, type PrintedHead } from "#core/contract/records/trail-signature.ts";
import type { WorkbookKind } from "../workbook/spreadsheet/cell.ts";
import { ABOUT_FIELDS, CONTROL_TITLES, EARLIER_DATA_FIELD, KIND_WORDS } from "../workbook/words/headings.ts";
import type { FoundCell, WorkbookFile } from "./workbook-file.ts";

/** What a worksheet About says of the export it belongs to. */
export interface AboutFacts extends PrintedHead {
  readonly program: string;
  readonly version: string;
  /** An instant. */
  readonly madeAt: string;
  readonly kind: WorkbookKind;
  readonly paper: Paper;
  readonly sheetId: string;
  readonly dataSha256: string;
  /** 1 for workbooks that do not say it. */
  readonly layout: number;
}

const DAY_MS = 86_400_000;
/** Day 25569 of a spreadsheet's calendar is 1970-01-01. */
const EPOCH_DAY = 25_569;
/** The facts stand near the top; a stranger's worksheet is not searched to its end. */
const LAST_ROW = 40;
/** Class tables and all, an About is shorter. */
const MOST_ROWS = 2000;
/** As many as one export may have. */
const MOST_SHEETS = 50;

function instantOf(serial: FoundCell["value"] | undefined): string | null {
  if (typeof serial !== "number") return null;
  const date = new Date(Math.round((serial - EPOCH_DAY) * DAY_MS));
  return Number.isNaN(date.getTime()) || date.getUTCFullYear() > 9999 ? null : date.toISOString();
}

async function fieldsOf(file: WorkbookFile, worksheet: string): Promise<Map<string, FoundCell["value"]>> {
  const names = new Map<number, string>();
  const fields = new Map<string, FoundCell["value"]>();
  for await (const cells of file.cells(worksheet)) {
    for (const { row, column, value } of cells) {
      if (row > LAST_ROW) return fields;
      if (column === 1 && typeof value === "string") names.set(row, value);
      const name = names.get(row);
      if (column === 2 && name !== undefined && !fields.has(name)) fields.set(name, value);
    }
  }
  return fields;
}

/** The head of the trail and its signature stand at the end of the worksheet, each in a cell of its own. */
async function headIn(file: WorkbookFile, worksheet: string): Promise<PrintedHead> {
  let trailHead: TrailHead | null = null;
  for await (const cells of file.cells(worksheet)) {
    for (const { row, value } of cells) {
      if (row > MOST_ROWS) return { trailHead, headSigned: null };
      if (typeof value !== "string") continue;
      if (trailHead === null && TrailHead.safeParse(value).success) trailHead = value;
      else if (trailHead !== null && isHeadSigned(value)) return { trailHead, headSigned: value };
    }
  }
  return { trailHead, headSigned: null };
}

/** Worksheets that bear the head themselves, since their workbook has none about itself. */
const BEARING: ReadonlySet<string> = new Set(["Standing", ...Object.values(CONTROL_TITLES)]);

/** The heads that a workbook of this program names, of a sheet, a count, a trend or control samples, as text: each alone, and signed. */
export async function headTextsIn(file: WorkbookFile): Promise<string[]> {
  const found = await Promise.all(
    file.worksheets
      .filter((name) => name.startsWith("About") || BEARING.has(name))
      .slice(0, MOST_SHEETS)
      .map((name) => headIn(file, name)),
  );
  return [...new Set(found.flatMap(({ trailHead, headSigned }) => [trailHead ?? "", headSigned ?? ""]))];
}

/** The facts of every sheet in a workbook, in order; worksheets of other programs give none. */
export async function aboutFacts(file: WorkbookFile): Promise<AboutFacts[]> {
  const found: AboutFacts[] = [];
  for (const worksheet of file.worksheets) {
    if (!/^About( S-\d+)?$/.test(worksheet)) continue;
    const fields = await fieldsOf(file, worksheet);
    const text = (name: string): string => String(fields.get(name) ?? "");
    const madeAt = instantOf(fields.get(ABOUT_FIELDS.madeAt));
    const [, program = "", version = ""] = /^(\S{1,40}) (\S{1,40})$/.exec(text(ABOUT_FIELDS.program)) ?? [];
    const sheetId = text(ABOUT_FIELDS.sheetId);
    const twice = found.some((one) => one.sheetId === sheetId);
    if (madeAt === null || program === "" || sheetId === "" || twice || found.length >= MOST_SHEETS) continue;
    found.push({
      program,
      version,
      madeAt,
      kind: text(ABOUT_FIELDS.kind) === KIND_WORDS.values ? "values" : "live",
      paper: text(ABOUT_FIELDS.paper) === "Letter" ? "Letter" : "A4",
      sheetId,
      dataSha256: text(ABOUT_FIELDS.data) || text(EARLIER_DATA_FIELD),
      layout: Number(text(ABOUT_FIELDS.layout)) || 1,
      ...(await headIn(file, worksheet)),
    });
  }
  return found;
}
