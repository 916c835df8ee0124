import { setImmediate } from "node:timers/promises";
import { overdueUseWords } from "#core/calibration/overdue-words.ts";
import { workingWords } from "#core/calibration/working-factor.ts";
import { CONVERTED_ELSEWHERE } from "#core/contract/records/exchange.ts";
import { FLAG_WORDS } from "#core/measurement/flags.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { printedNumber } from "#core/quantity/printed-number.ts";
import { byWeight, FLAG_TITLES } from "#core/vocabulary/flag.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, date, EMPTY, instant, number, text } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { RESULTS_LABELS as L } from "../words/field-labels.ts";
import { writeClasses } from "./class-lines.ts";
import { conformityLines } from "./conformity-lines.ts";
import { writeElsewhere } from "./elsewhere-cells.ts";
import { writeHistogram } from "./histogram-cells.ts";
import { type WorkbookJob, worstInverseNu } from "./job.ts";
import { certificateName, confirmedWords, eyepieceName } from "./lookups.ts";
import { writeReportStrings } from "./report-lines.ts";
import { writeSizeClasses } from "./size-class-cells.ts";
import {
  PRINTED_COLUMNS,
  type StatisticsGroup,
  statisticsCells,
  statisticsHeadings,
  statisticsSources,
} from "./statistics-cells.ts";

/**
 * Row–label pairs that live formulas per label may cover; beyond it a spreadsheet needs many seconds to open, so labels
 * are then written as values and only the line over all rows stays live.
 */
const MOST_LIVE_PAIRS = 500_000;

export function statisticsAreLive(job: WorkbookJob): boolean {
  return job.survey.labels.size * job.survey.rows <= MOST_LIVE_PAIRS;
}

const WIDTHS = [20, 7, 19, 7, 8, 7, 9, 9, 9, 9, 9, 10, 9, 12, 12, 12, 10, 12];
const LAST = PRINTED_COLUMNS;

function writeHead(sheet: SheetWriter, job: WorkbookJob): void {
  const { bundle, lookups, survey } = job;
  const eyepiece = bundle.microscope.eyepieces.find((one) => one.id === bundle.sheet.eyepieceId);
  const field = (name: string, value: Cell): void => sheet.spread([text(name, "field"), value], 2, LAST);
  sheet.row([text(`${bundle.sheet.number}  ${bundle.sheet.sample}`, "title")]);
  if (bundle.sheet.customer) field(L.customer, text(bundle.sheet.customer, "wrapped"));
  field(L.method, text(`${bundle.method.definition.name}, version ${bundle.method.version}`));
  if (bundle.sheet.note !== "") field(L.note, text(bundle.sheet.note, "wrapped"));
  field(L.microscope, text(bundle.microscope.name));
  field(L.eyepiece, text(eyepiece === undefined ? L.notRegistered : eyepieceName(eyepiece)));
  field(L.openedBy, text(lookups.person(bundle.sheet.openedBy)));
  field(L.openedAt, instant(bundle.sheet.openedAt));
  field(L.readBy, text(survey.enteredBy.map(lookups.person).join(", "), "wrapped"));
  const confirmed = confirmedWords(bundle, lookups);
  if (confirmed !== "") field(L.confirmed, text(confirmed, "wrapped"));
  field(L.firstReading, instant(survey.firstEnteredAt));
  field(L.lastReading, instant(survey.lastEnteredAt));
  field(L.rows, number(survey.rows, "wholeLeft"));
  field(L.struck, number(survey.struck, "wholeLeft"));
  sheet.row([EMPTY, text(L.struckRule)]);
  field(L.madeAt, instant(bundle.asOf));
  sheet.skip();
}

function writeFactors(sheet: SheetWriter, job: WorkbookJob): void {
  sheet.row([text(L.factors, "heading")]);
  if (job.lookups.calibrations.length === 0) {
    sheet.row([text(L.noFactors)]);
  }
  for (const one of job.lookups.calibrations) {
    const result = one.record.result;
    const micrometer = one.micrometer === null ? "" : `${one.micrometer.name}, no. ${one.micrometer.serial}`;
    const words = [
      one.train === null ? "" : job.lookups.objective(one.train.id),
      result === null
        ? "no result"
        : `${result.shownFactor} ± ${result.shownUncertainty} µm/div${workingWords(result)}`,
      `stage micrometer ${micrometer}`,
      `certificate ${one.certificate === null ? "not found" : certificateName(one.certificate)}`,
    ];
    sheet.spread([text(`Calibration ${one.number}`, "field"), text(words.join("; "), "wrapped")], 2, LAST);
    sheet.spread([text(L.calibrationDue, "field"), date(one.record.dueOn)], 2, LAST);
    sheet.spread([text(L.certificateDue, "field"), date(one.certificate?.dueOn ?? null)], 2, LAST);
  }
  sheet.skip();
}

/** Where the words are read: beside the worksheets, or on a page of its own. */
export type ReadOn = "workbook" | "paper";
/** Most values named in one line. */
const MOST_APART = 20;

/** Values apart from the rest of their label: what can be wrong is said first. */
function apartLines({ survey, bundle }: WorkbookJob): string[] {
  const { rows } = survey.apart;
  if (rows.length === 0) return [];
  const nameOf = (key: string): string =>
    bundle.method.definition.dimensions.find((one) => one.key === key)?.name ?? key;
  const named = rows.slice(0, MOST_APART).map(({ ordinal, label, dimension, shown }) => {
    const of = label === "" ? nameOf(dimension) : `${label}, ${nameOf(dimension)}`;
    return `row ${ordinal} (${of}: ${shown} µm)`;
  });
  const more = rows.length > MOST_APART ? ` and ${rows.length - MOST_APART} more` : "";
  return [
    `Apart from the rest of their label (generalized ESD test, risk at most 2 % per label and dimension; nothing is left out): ${named.join("; ")}${more}.`,
  ];
}

/** Who used something past its due date knowingly, and why; said too where nobody has. */
function overdueLinesOf({ survey, bundle, lookups }: WorkbookJob): readonly string[] {
  const uses = bundle.overdueUses ?? [];
  const isOverdue = survey.cautions.has("calibration-overdue") || survey.cautions.has("certificate-overdue");
  if (uses.length === 0 && isOverdue && bundle.overdueUses) {
    return ["Why something overdue was used all the same, nobody has said."];
  }
  return uses.map((use) => overdueUseWords(use, lookups.person(use.by)));
}

/** Returns of the eyepiece, up to the last reading, on which a factor rests by somebody's word. */
function statedReturnsOf({ survey, bundle }: WorkbookJob): readonly string[] {
  const lastDay = survey.lastEnteredAt?.slice(0, 10) ?? "";
  return (bundle.bench?.statedReturns ?? []).filter(({ on }) => on <= lastDay).map(({ words }) => words);
}

/** What a reader must know before using a number of this workbook. */
export function cautionsOf(job: WorkbookJob, statisticsLive: boolean, on: ReadOn = "workbook"): string[] {
  const { survey } = job;
  const lines: string[] = [...apartLines(job), ...(job.bundle.bench?.unproven ?? [])];
  const counted = (count: number, one: string, many?: string): string =>
    printedNumber(countedNoun(count, one, many));
  if (survey.withoutSize > 0) {
    const where = on === "paper" ? "" : " (reasons: worksheet “Rows”)";
    lines.push(`${counted(survey.withoutSize, "row has", "rows have")} divisions but no size${where}.`);
  }
  if (survey.convertedElsewhere > 0) {
    lines.push(
      `${counted(survey.convertedElsewhere, "row carries", "rows carry")} a size ${CONVERTED_ELSEWHERE}: it stands in the note and in none of these figures.`,
    );
  }
  if (survey.elsewhere.rows > 0) {
    lines.push(
      `${counted(survey.elsewhere.rows, "row carries", "rows carry")} a size ${CONVERTED_ELSEWHERE}: such sizes stand apart, with what they were converted by, and are in none of the other figures.`,
    );
  }
  for (const flag of byWeight(survey.cautions.keys())) {
    const count = survey.cautions.get(flag) ?? 0;
    lines.push(`${counted(count, "measurement")}: ${FLAG_TITLES[flag]}. ${FLAG_WORDS[flag].meaning}`);
  }
  lines.push(...overdueLinesOf(job));
  lines.push(...statedReturnsOf(job));
  for (const one of job.lookups.calibrations) {
    if (one.record.state === "withdrawn") {
      const day = one.record.endedAt?.slice(0, 10) ?? "a date not recorded";
      lines.push(
        `Calibration ${one.number} was withdrawn on ${day}: ${one.record.endReason ?? "no reason given"}.`,
      );
    }
  }
  if (survey.moreLabels)
    lines.push("There are more labels than are listed; the first line counts all of them.");
  if (!statisticsLive)
    lines.push("The lines per label are values, not formulas: with so many rows they would be slow.");
  lines.push("A factor is valid only for the optical train and the person's settings it was found with.");
  return lines;
}

/** All rows that count, then those of each label in order of first appearance. */
export function groupsOf(dimension: string, job: Pick<WorkbookJob, "survey">): StatisticsGroup[] {
  const none = { sizes: [], factorParts: [] };
  const groups: StatisticsGroup[] = [{ label: null, counted: job.survey.all.get(dimension) ?? none }];
  for (const [label, dimensions] of job.survey.labels) {
    groups.push({ label, counted: dimensions.get(dimension) ?? none });
  }
  return groups;
}

async function writeStatistics(sheet: SheetWriter, live: boolean, job: WorkbookJob): Promise<void> {
  const worst = worstInverseNu(job);
  const lines = new Map<string, Map<string | null, number>>();
  for (const source of statisticsSources(job)) {
    const placed = new Map<string | null, number>();
    lines.set(source.key, placed);
    sheet.row([text(source.name, "heading")]);
    sheet.row(statisticsHeadings(job, source.unit).map((header) => text(header, "column")));
    for (const group of groupsOf(source.key, job)) {
      const alive = job.survey.rows > 0 && (group.label === null || live);
      placed.set(group.label, sheet.nextRow);
      sheet.row(statisticsCells(group, source, sheet.nextRow, alive, job, worst));
      // Thousands of sizes are put in order for each line.
      await setImmediate();
    }
    sheet.skip();
    writeHistogram(sheet, source, job.survey.all.get(source.key)?.sizes ?? [], LAST, job);
  }
  writeClasses(sheet, live, job, LAST);
  writeSizeClasses(sheet, job, LAST);
  writeReportStrings(sheet, lines, live, job, LAST);
  const { type } = job.bundle.method.definition.percentiles;
  for (const line of [
    "U of a mean joins the scatter of the specimens (s/√n) with what all of them share: the factor and the edges.",
    "The 95 % interval of the mean is Student's, from the scatter alone.",
    `Percentiles are of type ${type} of Hyndman and Fan 1996, the spreadsheet's ${type === 7 ? "PERCENTILE.INC" : "PERCENTILE.EXC"}.`,
  ]) {
    sheet.row([text(line)]);
  }
}

/** Places for the hands of those who answer for the sheet. */
function writeSignatures(sheet: SheetWriter): void {
  sheet.skip();
  for (const who of [L.measuredBy, L.reviewedBy]) {
    sheet.skip();
    const line: Cell = { ...EMPTY, look: "signature" };
    sheet.row([text(who, "field"), line, line, line, line, text(L.date), line, line]);
  }
}

/** The report view: what was measured, with what, and the statistics per label and over all rows, live over Rows. */
export async function writeResultsSheet(workbook: BookWriter, job: WorkbookJob): Promise<void> {
  const sheet = openSheet(
    workbook,
    {
      name: job.names.worksheets.results,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 0,
      titleRows: "1:1",
      landscape: true,
      printedColumns: PRINTED_COLUMNS,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  const live = statisticsAreLive(job);
  writeHead(sheet, job);
  writeFactors(sheet, job);
  const conformity = conformityLines(job);
  if (conformity.length > 0) {
    sheet.row([text(L.conformity, "heading")]);
    for (const line of conformity) sheet.spread([text(line, "wrapped")], 1, LAST);
    sheet.skip();
  }
  sheet.row([text(L.cautions, "heading")]);
  for (const line of cautionsOf(job, live)) sheet.spread([text(line, "caution")], 1, LAST);
  sheet.skip();
  await writeStatistics(sheet, live, job);
  writeElsewhere(sheet, job, LAST);
  writeSignatures(sheet);
  await sheet.finish();
}
