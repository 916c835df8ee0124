import type ExcelJS from "exceljs";
import { FLAG_WORDS } from "#core/measurement/flags.ts";
import { type Cell, date, instant, number, text } from "./cell.ts";
import { inverseNu, WORKSHEETS, type WorkbookJob } from "./job.ts";
import { certificateName, eyepieceName } from "./lookups.ts";
import { openSheet, type SheetWriter } from "./sheet-writer.ts";
import { STATISTICS_HEADERS, type StatisticsGroup, statisticsCells } from "./statistics-cells.ts";

/**
 * Row–label pairs that live formulas per label may cover; beyond it a spreadsheet needs many seconds to open, so labels
 * are then written as values and only the line over all rows stays live.
 */
const MOST_LIVE_PAIRS = 3_000_000;

export function statisticsAreLive(job: WorkbookJob): boolean {
  return job.survey.labels.size * job.survey.rows <= MOST_LIVE_PAIRS;
}

const WIDTHS = [24, 8, 12, 10, 10, 10, 12, 12, 10, 9, 12, 26];

function field(name: string, ...values: Cell[]): Cell[] {
  return [text(name, "field"), ...values];
}

function writeHead(sheet: SheetWriter, job: WorkbookJob): void {
  const { bundle, lookups, survey } = job;
  const eyepiece = bundle.microscope.eyepieces.find((one) => one.id === bundle.sheet.eyepieceId);
  sheet.row([text(`${bundle.sheet.number}  ${bundle.sheet.sample}`, "title")]);
  sheet.row(field("Method", text(`${bundle.method.definition.name}, version ${bundle.method.version}`)));
  if (bundle.sheet.note !== "") sheet.row(field("Note", text(bundle.sheet.note)));
  sheet.row(field("Microscope", text(bundle.microscope.name)));
  sheet.row(field("Eyepiece", text(eyepiece === undefined ? "not registered" : eyepieceName(eyepiece))));
  sheet.row(field("Opened by", text(lookups.person(bundle.sheet.openedBy))));
  sheet.row(field("Opened at (UTC)", instant(bundle.sheet.openedAt)));
  sheet.row(field("Read by", text(survey.enteredBy.map(lookups.person).join(", "))));
  sheet.row(field("First reading (UTC)", instant(survey.firstEnteredAt)));
  sheet.row(field("Last reading (UTC)", instant(survey.lastEnteredAt)));
  sheet.row(field("Rows", number(survey.rows, "whole")));
  sheet.row(field("Rows struck", number(survey.struck, "whole"), text("kept on Rows, left out below")));
  sheet.row(field("Workbook made (UTC)", instant(bundle.asOf)));
  sheet.skip();
}

function writeFactors(sheet: SheetWriter, job: WorkbookJob): void {
  sheet.row([text("Factors used", "heading")]);
  if (job.lookups.calibrations.length === 0) {
    sheet.row([text("None: no reading of this sheet had a calibration in force, so there are no sizes.")]);
  }
  for (const one of job.lookups.calibrations) {
    const result = one.record.result;
    const micrometer = one.micrometer === null ? "" : `${one.micrometer.name}, no. ${one.micrometer.serial}`;
    sheet.row([
      text(`Calibration ${one.number}`, "field"),
      text(
        `${one.train === null ? "" : job.lookups.objective(one.train.id)}: ` +
          `${result === null ? "no result" : `${result.shownFactor} ± ${result.shownUncertainty} µm/div`}` +
          `; stage micrometer ${micrometer}` +
          `; certificate ${one.certificate === null ? "not found" : certificateName(one.certificate)}`,
      ),
    ]);
    sheet.row([
      text(""),
      text("calibration due"),
      date(one.record.dueOn),
      text("certificate due"),
      date(one.certificate?.dueOn ?? null),
    ]);
  }
  sheet.skip();
}

/** What a reader must know before using a number of this workbook. */
export function cautionsOf(job: WorkbookJob, statisticsLive: boolean): string[] {
  const { survey } = job;
  const lines: string[] = [];
  if (survey.withoutSize > 0) {
    lines.push(`${survey.withoutSize} row(s) have divisions but no size: the reason stands on Rows.`);
  }
  for (const [flag, count] of survey.cautions) {
    lines.push(`${count} measurement(s): ${flag}. ${FLAG_WORDS[flag].meaning}`);
  }
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

function groupsOf(dimension: string, job: WorkbookJob): StatisticsGroup[] {
  const none = { sizes: [], factorParts: [] };
  const groups: StatisticsGroup[] = [{ label: null, counted: job.survey.all.get(dimension) ?? none }];
  for (const [label, dimensions] of job.survey.labels) {
    groups.push({ label, counted: dimensions.get(dimension) ?? none });
  }
  return groups;
}

/** The report view: what was measured, with what, and the statistics per label and over all rows, live over Rows. */
export async function writeResultsSheet(
  workbook: ExcelJS.stream.xlsx.WorkbookWriter,
  job: WorkbookJob,
): Promise<void> {
  const sheet = openSheet(
    workbook,
    {
      name: WORKSHEETS.results,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 0,
      titleRows: "1:1",
      landscape: true,
      pagesWide: 1,
      footer: job.trace,
      programLine: job.programLine,
    },
    job.kind,
  );
  const live = statisticsAreLive(job);
  const worst = job.lookups.calibrations.reduce(
    (most, one) => Math.max(most, inverseNu(one.record.result?.degreesOfFreedom ?? null)),
    0,
  );
  writeHead(sheet, job);
  writeFactors(sheet, job);
  sheet.row([text("Cautions", "heading")]);
  for (const line of cautionsOf(job, live)) sheet.row([text(line, "caution")]);
  sheet.skip();
  job.bundle.method.definition.dimensions.forEach((dimension, index) => {
    sheet.row([text(dimension.name, "heading")]);
    sheet.row(
      STATISTICS_HEADERS.map((header) => text(header, "column")),
      32,
    );
    for (const group of groupsOf(dimension.key, job)) {
      const alive = job.survey.rows > 0 && (group.label === null || live);
      sheet.row(statisticsCells(group, index, sheet.nextRow, alive, job, worst));
    }
    sheet.skip();
  });
  sheet.row([
    text(
      "U of a mean joins the scatter of the specimens (s/√n) with what all of them share: the factor and the edges.",
    ),
  ]);
  await sheet.finish();
}
