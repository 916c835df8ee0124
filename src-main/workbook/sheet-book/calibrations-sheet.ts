import { SETTINGS_THAT_STAND_ALONE } from "#core/calibration/repeatability.ts";
import { workingWords } from "#core/calibration/working-factor.ts";
import type { KeptAssessment } from "#core/contract/records/assessment.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import type { RepeatabilityOrigin } from "#core/vocabulary/repeatability-origin.ts";
import { ASSESSMENT_RULE, type CalculationRule } from "#core/vocabulary/rules.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, date, EMPTY, formula, instant, number, text } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { CALIBRATION_LABELS as L } from "../words/field-labels.ts";
import {
  BUDGET_HEADINGS,
  CALIBRATION_CONDITION_HEADINGS,
  FINDING_HEADINGS,
  SETTING_HEADINGS,
} from "../words/headings.ts";
import { type BookNames, inverseNu, type WorkbookJob } from "./job.ts";
import { certificateName, type NumberedCalibration } from "./lookups.ts";

const WIDTHS = [39, 16, 8, 8, 13, 12, 13, 9, 8, 8];
const LAST = WIDTHS.length;

const CONDITION_LINES = [
  ["temperature", L.temperature, "°C"],
  ["temperatureHalfWidth", L.halfWidth, "K"],
  ["expansion", L.expansion, "1/K"],
  ["expansionHalfWidth", L.halfWidth, "1/K"],
  ["micrometerDriftHalfWidth", L.drift, "µm"],
  ["alignmentHalfAngle", L.angle, "°"],
  ["fieldDistortionHalfWidth", L.distortion, "1"],
  ["trainHalfWidth", L.seating, "1"],
  ["trainDoubt", L.seatingDoubt, "1"],
  ["smallestFraction", L.smallestFraction, "div"],
] as const;

/** A typed number as a number with its text beside it; unreadable text (of a draft) stays text only. */
function typedCells(typed: string): Cell[] {
  try {
    return [number(readDecimal("value", typed).text, "given"), text(typed)];
  } catch {
    return [EMPTY, text(typed)];
  }
}

function writeFactor(sheet: SheetWriter, one: NumberedCalibration, bookNames: BookNames): void {
  const { result } = one.record;
  if (result === null) return;
  const names = bookNames.factor(one.number);
  const nu = result.degreesOfFreedom;
  const line = (what: string, cell: Cell, unit: string, exact: string, name?: string): void => {
    if (name !== undefined) sheet.nameCell(sheet.nextRow, 2, name);
    sheet.row([text(what, "field"), cell, text(unit), text(exact)]);
  };
  line(
    L.factor,
    number(result.factor, "factor"),
    "µm/div",
    `exactly ${result.factor}; shown ${result.shownFactor}${workingWords(result)}`,
    names.factor,
  );
  line(
    L.u,
    number(result.standardUncertainty, "contribution"),
    "µm/div",
    `exactly ${result.standardUncertainty}`,
    names.u,
  );
  line(L.nu, nu === null ? text("infinite") : number(nu, "freedom"), "", L.nuRule);
  line(
    L.inverseNu,
    nu === null ? number(0, "plain") : formula(`1/B${sheet.nextRow - 1}`, inverseNu(nu), "plain"),
    "",
    L.inverseNuRule,
    names.inverseNu,
  );
  line(L.k, number(result.coverageFactor, "coverage"), "", `coverage rule ${one.record.coverage}`);
  line(
    L.U,
    formula(`B${sheet.nextRow - 1}*B${sheet.nextRow - 4}`, result.expandedUncertainty, "contribution"),
    "µm/div",
    `shown ${result.shownUncertainty}`,
  );
  line(L.meanOfRatios, number(result.meanOfRatios, "factor"), "µm/div", L.meanOfRatiosUse);
  line(L.span, number(result.span, "divisions"), "div", "");
  line(L.residual, number(result.residualDeviation, "uncertainty"), "div", L.residualOf);
  line(L.rule, number(result.rule ?? 1, "whole"), "", RULE_WORDS[result.rule ?? 1]);
  if (result.pooled) {
    const { deviation, degreesOfFreedom, origin, calibrations } = result.pooled;
    line(L.pooledDeviation, number(deviation, "uncertainty"), "div", ORIGIN_WORDS[origin](calibrations));
    line(L.pooledFreedom, number(degreesOfFreedom, "freedom"), "", USE_OF_POOLED);
  }
}

const RULE_WORDS: Readonly<Record<CalculationRule, string>> = {
  1: "one setting without scatter; the certificate's part that of the longest span",
  2: "pooled repeatability; the certificate's part that of the estimate",
};

const ORIGIN_WORDS: Readonly<Record<RepeatabilityOrigin, (calibrations: number) => string>> = {
  person: (n) => `pooled from ${countedNoun(n, "calibration")} of this person`,
  bench: (n) => `pooled from ${countedNoun(n, "calibration")} of this bench`,
  default: () => "assumed: a choice, nothing to pool yet",
  "repeat readings": (n) => `pooled from ${countedNoun(n, "specimen")} that this person read repeatedly`,
  practice: (n) => `practice: pooled from ${countedNoun(n, "attempt")} of this person at a drawn eyepiece`,
};

const USE_OF_POOLED = `s of one setting, both edges; used with fewer than ${SETTINGS_THAT_STAND_ALONE} settings`;

/** The verdict as it was kept, and every one before it. */
function writeAssessments(sheet: SheetWriter, one: NumberedCalibration, job: WorkbookJob): void {
  const kept = (job.bundle.assessments ?? []).filter(({ calibrationId }) => calibrationId === one.record.id);
  const [newest, ...before] = kept;
  const line = (what: string, words: string): void =>
    sheet.spread([text(what, "field"), text(words, "wrapped")], 2, LAST);
  if (!newest || newest.rule < ASSESSMENT_RULE) line(L.verdict, "assessed by an older rule");
  if (!newest) return;
  const assessed = ({ at, by, reason }: KeptAssessment): string =>
    `${at} by ${job.lookups.person(by)}, rule ${newest.rule}: ${reason}`;
  const outcome = ({ outcome: found, single, remarks }: KeptAssessment): string =>
    [`${found}${single ? ", one setting only" : ""}`, ...remarks].join(". ");
  line(L.verdict, outcome(newest));
  line(L.assessed, assessed(newest));
  for (const earlier of before) line(L.assessed, `${assessed(earlier)}: ${outcome(earlier)}`);
  sheet.skip();
  sheet.row(FINDING_HEADINGS.map((header) => text(header, "column")));
  for (const { name, state, words } of newest.findings) {
    sheet.spread([text(name), text(state), text(words, "wrapped")], 3, LAST);
  }
}

function writeWho(sheet: SheetWriter, one: NumberedCalibration, job: WorkbookJob): void {
  const { record, micrometer, certificate } = one;
  const line = (what: string, cell: Cell): void => sheet.spread([text(what, "field"), cell], 2, LAST);
  line(L.id, text(record.id));
  line(L.state, text(record.state));
  line(L.train, text(one.train === null ? record.trainId : job.lookups.objective(one.train.id)));
  line(L.microscope, text(job.bundle.microscope.name));
  line(L.foundBy, text(job.lookups.person(record.personId)));
  line(L.startedAt, instant(record.startedAt));
  line(L.inForceAt, instant(record.inForceAt));
  line(L.inForceBy, text(job.lookups.person(record.inForceBy)));
  line(L.dueOn, date(record.dueOn));
  if (record.endedAt !== null) {
    line(L.endedAt, instant(record.endedAt));
    line(L.endedBy, text(job.lookups.person(record.endedBy)));
    line(L.endReason, text(record.endReason ?? "", "wrapped"));
  }
  line(L.stageMicrometer, text(micrometer === null ? "" : `${micrometer.name}, no. ${micrometer.serial}`));
  line(L.certificate, text(certificate === null ? "" : certificateName(certificate)));
  line(L.estimate, text(record.estimator));
  if (record.remark !== "") line(L.remark, text(record.remark, "wrapped"));
}

function writeSettings(sheet: SheetWriter, one: NumberedCalibration): void {
  sheet.skip();
  sheet.row(SETTING_HEADINGS.map((header) => text(header, "column")));
  one.record.settings.forEach((setting, index) => {
    const at = sheet.nextRow;
    const [left, right] = [typedCells(setting.reticleLeft), typedCells(setting.reticleRight)];
    const readable = left[0] !== EMPTY && right[0] !== EMPTY;
    const divisions = readable ? Number(right[0]?.value) - Number(left[0]?.value) : null;
    sheet.row([
      number(index + 1, "whole"),
      ...left,
      ...right,
      divisions === null ? EMPTY : formula(`D${at}-B${at}`, divisions, "divisions"),
      typedCells(setting.lineLeft)[0] ?? EMPTY,
      typedCells(setting.lineRight)[0] ?? EMPTY,
    ]);
  });
}

function writeBudget(sheet: SheetWriter, one: NumberedCalibration): void {
  const { result } = one.record;
  if (result === null) return;
  sheet.skip();
  sheet.row(BUDGET_HEADINGS.map((header) => text(header, "column")));
  for (const line of result.budget) {
    const at = sheet.nextRow;
    sheet.row([
      text(line.name, "wrapped"),
      number(line.standardUncertainty, "plain"),
      text(line.unit),
      number(line.divisor, "coverage"),
      text(line.distribution),
      number(line.sensitivity, "plain"),
      formula(`ABS(B${at}*F${at})`, line.contribution, "contribution"),
      line.degreesOfFreedom === null ? text("infinite") : number(line.degreesOfFreedom, "freedom"),
      number(line.share, "share"),
      text(line.class),
    ]);
  }
}

function writeConditions(sheet: SheetWriter, one: NumberedCalibration): void {
  sheet.skip();
  sheet.row(CALIBRATION_CONDITION_HEADINGS.map((header) => text(header, "column")));
  for (const [key, name, unit] of CONDITION_LINES) {
    sheet.row([text(name), ...typedCells(one.record.conditions[key]), text(unit)]);
  }
}

/** Each calibration a row was converted with: its factor in a named cell, where it comes from and its budget. */
export async function writeCalibrationsSheet(workbook: BookWriter, job: WorkbookJob): Promise<void> {
  const sheet = openSheet(
    workbook,
    {
      name: job.names.worksheets.calibrations,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 1,
      titleRows: "1:1",
      landscape: true,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([text(L.title, "title")]);
  writeWorst(sheet, job);
  for (const one of job.lookups.calibrations) {
    sheet.skip();
    sheet.row([text(`Calibration ${one.number}`, "heading")]);
    writeFactor(sheet, one, job.names);
    writeWho(sheet, one, job);
    writeSettings(sheet, one);
    writeConditions(sheet, one);
    writeBudget(sheet, one);
    writeAssessments(sheet, one, job);
  }
  await sheet.finish();
}

/** The mean of a sheet may rest on several factors: its ν is reckoned with the smallest of theirs. */
function writeWorst(sheet: SheetWriter, job: WorkbookJob): void {
  const used = job.lookups.calibrations.filter((one) => one.record.result !== null);
  const all = used.map((one) => inverseNu(one.record.result?.degreesOfFreedom ?? null));
  const worst = Math.max(0, ...all);
  const names = used.map((one) => job.names.factor(one.number).inverseNu);
  sheet.nameCell(sheet.nextRow, 2, job.names.worstInverseNu);
  sheet.row([
    text(L.worst, "field"),
    names.length === 0 ? number(0, "plain") : formula(`MAX(${names.join(",")})`, worst, "plain"),
    text(""),
    text(L.worstUse),
  ]);
}
