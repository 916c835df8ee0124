import type { SignOff } from "#core/contract/records/sign-off.ts";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { ownFormulaLines } from "#core/measurement/derived-kind.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, instant, text } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { ABOUT_LABELS as L } from "../words/field-labels.ts";
import { ABOUT_FIELDS, CONDITION_HEADINGS, KIND_WORDS, WORKBOOK_LAYOUT } from "../words/headings.ts";
import { COVERAGE_WORDS, ROUNDING_WORDS } from "../words/words.ts";
import { writeClassTables } from "./class-table-cells.ts";
import { DIGEST_RECIPE } from "./data-digest.ts";
import type { WorkbookJob } from "./job.ts";
import { methodLines, methodRow } from "./method-cells.ts";

const WIDTHS = [28, 20, 9, 41];
const LAST = WIDTHS.length;

function paragraphs(sheet: SheetWriter, title: string, lines: readonly string[]): void {
  sheet.skip();
  sheet.row([text(title, "heading")]);
  for (const line of lines) sheet.spread([text(line, "wrapped")], 1, LAST);
}

function field(sheet: SheetWriter, name: string, value: Cell): void {
  sheet.spread([text(name, "field"), value], 2, LAST);
}

function writeMethod(sheet: SheetWriter, job: WorkbookJob): void {
  const { method } = job.bundle;
  const { definition } = method;
  sheet.skip();
  sheet.row([text(L.method, "heading")]);
  const words = (name: string, value: string): void => field(sheet, name, text(value, "wrapped"));
  words(L.name, definition.name);
  words(L.version, String(method.version));
  field(sheet, L.definedAt, instant(method.definedAt));
  words(L.definedBy, job.lookups.person(method.definedBy));
  words(L.dimensions, definition.dimensions.map((one) => one.name).join(", "));
  words(L.edges, definition.edgeConvention || L.notStated);
  words(L.leastDivisions, definition.minimumDivisions);
  words(L.rounding, ROUNDING_WORDS[definition.rounding]);
  words(L.digits, L.digitsRule);
  words(L.coverage, COVERAGE_WORDS[definition.coverage]);
  if (definition.note !== "") words(L.note, definition.note);
  sheet.skip();
  sheet.row([text(L.conditions, "heading")]);
  sheet.row(CONDITION_HEADINGS.map((header) => text(header, "column")));
  for (const line of methodLines(method, job.names.method)) {
    if (line.name !== null) sheet.nameCell(sheet.nextRow, 2, line.name);
    sheet.row(methodRow(line));
  }
  writeClassTables(sheet, job, LAST);
}

/** One row of this very sheet, step by step, so that a stranger can follow it with a pocket calculator. */
function handLines(job: WorkbookJob): string[] {
  const { example } = job.survey;
  if (example === null)
    return ["No row of this sheet has a size from a single reading, so none is worked out here."];
  const { row, measurement } = example;
  const { size, divisions, left, right, direct, calibrationId } = measurement;
  const calibration = calibrationId === null ? null : job.lookups.calibration(calibrationId);
  const result = calibration?.record.result;
  if (size === null || divisions === null || calibration === null || !result) return [];
  const n = job.numbers;
  const dimension = job.bundle.method.definition.dimensions.find((one) => one.key === measurement.dimension);
  const scale = Number(result.factor) * (1 + n.correction);
  const d = Math.abs(Number(divisions));
  const parts = [
    d * (1 + n.correction) * Number(result.standardUncertainty),
    scale * n.repeatability,
    scale * n.readingU,
    scale * n.readingU,
    d * Number(result.factor) * n.correctionU,
    n.edgeU,
  ];
  const printed = (value: number): string => String(Number(value.toPrecision(10)));
  return [
    `Row ${row.ordinal}, ${dimension?.name ?? measurement.dimension}. ${direct === null ? `Readings as typed: left ${left}, right ${right}.` : `Reading as typed: ${direct} div.`}`,
    direct === null
      ? `Divisions D = right − left = ${divisions} div. A negative D means the edges were read the wrong way round; the size takes |D|.`
      : `Divisions D = ${divisions} div, read directly.`,
    `Factor f = ${printed(Number(result.factor))} µm/div, from Calibration ${calibration.number} (cell ${job.names.factor(calibration.number).factor}).`,
    `Size = |D|·f·(1 + κ) = ${printed(d)} × ${printed(Number(result.factor))} × (1 + ${printed(n.correction)}) = ${printed(Number(size.value))} µm.`,
    `u² = u(factor)² + u(repeatability)² + 2·u(reading)² + u(angle)² + u(edges)², in µm:`,
    `u = √(${parts.map((part) => `${printed(part)}²`).join(" + ")}) = ${printed(Number(size.standardUncertainty))} µm.`,
    `ν = ${size.degreesOfFreedom === null ? "infinite" : printed(Number(size.degreesOfFreedom))}, k = ${printed(Number(size.coverageFactor))}, U = k·u = ${printed(Number(size.expandedUncertainty))} µm.`,
    `Reported: ${size.shownValue} ± ${size.shownUncertainty} µm.`,
  ];
}

function howToRead(job: WorkbookJob): string[] {
  if (job.kind === "values")
    return ["This is a copy without formulas: the same numbers as in the copy with live formulas."];
  return [
    "Change a reading on Rows (left or right), a factor on Calibrations or a condition above: sizes, uncertainties and means follow.",
    "“As recorded” and “as exported” hold what the program froze or printed; they stay when a cell is changed.",
    "Numbers in cells are binary and keep 15 to 16 digits; the text columns keep every reading exactly as it was typed.",
    "k is computed on each row from its own ν, truncated to a whole number: spreadsheets would truncate it silently.",
    ...job.bundle.method.definition.dimensions
      .filter(({ parts }) => parts !== undefined)
      .map(
        ({ name }) =>
          `${name} is read in parts: D is the sum of their lengths, and of m parts u² holds m times the repeatability and the readings of both ends.`,
      ),
    ...ownFormulaLines(job.bundle.method.definition),
    "A mean that rests on several factors takes their parts as fully correlated and the smallest of their ν.",
  ];
}

const SIGN_OFF_WORDS = { closed: "Closed", reviewed: "Reviewed", signed: "Signed" } as const;

function signOffLine({ kind, at, by, words, ended, pinReset }: SignOff, job: WorkbookJob): string {
  const person = job.lookups.person;
  const said = words === "" ? "" : ` “${words}”`;
  const mark = pinReset
    ? `, with a PIN that was reset ${pinReset.at}, ${person(pinReset.voucher)} vouching, and that its owner had not confirmed`
    : "";
  const end = ended === null ? "" : `; no longer valid since ${ended.at}: ${ended.reason}`;
  return `${SIGN_OFF_WORDS[kind]} by ${person(by)}, ${at}${mark}.${said}${end}`;
}

/** Closing, review and signatures as they stood when the workbook was made, and how far the trail went. */
function writeProof(sheet: SheetWriter, job: WorkbookJob): void {
  const { signOffs, asOf, bench } = job.bundle;
  if (bench === null || bench.trailHead === null) return;
  const then = signOffs
    .filter((one) => one.at <= asOf)
    .map((one) => ({ ...one, ended: one.ended && one.ended.at <= asOf ? one.ended : null }))
    .toReversed();
  const lines = then.map((one) => signOffLine(one, job));
  paragraphs(sheet, L.signOffs, lines.length === 0 ? ["None."] : lines);
  const signed = bench.headSigned === null ? [] : [bench.headSigned];
  paragraphs(sheet, TRAIL_HEAD_LABEL, [bench.trailHead, ...signed, L.trailRule]);
}

/** What a stranger needs to check this workbook without us. */
export async function writeAboutSheet(
  workbook: BookWriter,
  job: WorkbookJob,
  cautions: readonly string[],
): Promise<void> {
  const { bundle, survey } = job;
  const sheet = openSheet(
    workbook,
    {
      name: job.names.worksheets.about,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 0,
      titleRows: "1:1",
      landscape: false,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([text(`About this workbook of ${bundle.sheet.number}`, "title")]);
  field(sheet, ABOUT_FIELDS.program, text(job.programLine));
  field(sheet, ABOUT_FIELDS.madeAt, instant(bundle.asOf));
  field(sheet, ABOUT_FIELDS.kind, text(KIND_WORDS[job.kind]));
  field(sheet, ABOUT_FIELDS.paper, text(job.paper));
  field(sheet, ABOUT_FIELDS.sheetId, text(bundle.sheet.id));
  if (bundle.sheet.customer) field(sheet, L.customer, text(bundle.sheet.customer, "wrapped"));
  field(sheet, L.dates, text(L.datesRule));
  field(sheet, ABOUT_FIELDS.layout, text(String(WORKBOOK_LAYOUT)));
  field(sheet, ABOUT_FIELDS.data, text(survey.dataSha256));
  field(sheet, L.digestRecipe, text(DIGEST_RECIPE, "wrapped"));
  if (bundle.bench !== null) {
    field(sheet, L.rowsDigest, text(bundle.bench.rowsSha256));
    field(sheet, L.whatItCovers, text(L.rowsDigestRule, "wrapped"));
  }
  writeMethod(sheet, job);
  paragraphs(sheet, L.howToRead, howToRead(job));
  paragraphs(sheet, L.byHand, handLines(job));
  paragraphs(sheet, L.cautions, cautions);
  writeProof(sheet, job);
  await sheet.finish();
}
