import { decisionWords, densityDecisions } from "#core/counting/densities/density-decisions.ts";
import { limitsOfRecord, limitsTitle } from "#core/counting/densities/reported-density.ts";
import { EDGE_RULES } from "#core/counting/methods/edge-rules.ts";
import { fitWords, objectsPerField, scatterOfFields } from "#core/counting/results/scatter-of-fields.ts";
import { fibreRuleOf, fibreRuleWords } from "#core/methods/fibre-rules.ts";
import { equalsProbability } from "#core/quantity/probability-words.ts";
import { certificateName, eyepieceName, objectiveName } from "../sheet-book/lookups.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, EMPTY, formula, instant, number, text } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { biovolumeReport } from "./count-biovolume-report.ts";
import { writeCountCounts } from "./count-counts-block.ts";
import { COUNT_WORKSHEETS, type CountJob } from "./count-job.ts";

const WIDTHS = [25, 12, 10, 10, 10, 10, 19];
const LAST = WIDTHS.length;

function field(sheet: SheetWriter, name: string, value: Cell): void {
  sheet.spread([text(name, "field"), value], 2, LAST);
}

function writeHead(sheet: SheetWriter, job: CountJob): void {
  const { count, method } = job.bundle;
  const { definition } = method;
  const words = (name: string, value: string): void => field(sheet, name, text(value, "wrapped"));
  sheet.row([text(`${count.number} · ${count.sample}`, "title")]);
  if (count.customer) words("Customer", count.customer);
  words("Method", `${definition.name}, version ${method.version}`);
  words("Source of the method", `${definition.source} (${definition.standing})`);
  words("One press stands for", definition.countingUnit);
  const edge = EDGE_RULES.find((rule) => rule.id === definition.edgeRuleId);
  words("Edge rule", edge ? `${edge.name} (${edge.source})` : "none named by the method");
  const fibres = fibreRuleOf(definition.fibreRuleId);
  if (fibres) words("Fibre rule", `${fibres.name}: ${fibreRuleWords(fibres).join(" ")} (${fibres.source})`);
  words("Stopping rule", `${definition.stopping.name} (${definition.stopping.source})`);
  field(sheet, "Counted from (UTC)", instant(count.openedAt));
  words("Counted by", job.person(count.openedBy));
  if (count.closedAt === null) words("Closed", "no: these are the results of the moment of the export");
  else field(sheet, "Closed at (UTC)", instant(count.closedAt));
  words("Minutes counted", String(Math.round(count.secondsBefore / 6) / 10));
  if (count.batch !== "") words("Batch", count.batch);
  if (count.note !== "") words("Note", count.note);
}

function writeTrain(sheet: SheetWriter, { bundle }: CountJob): void {
  const { microscope, train, calibration, stageMicrometer, certificate, count } = bundle;
  if (!microscope || !train) return;
  const words = (name: string, value: string): void => field(sheet, name, text(value, "wrapped"));
  const objective = microscope.objectives.find((one) => one.id === train.objectiveId);
  const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  words("Microscope", microscope.name);
  if (objective) words("Objective", objectiveName(objective));
  if (eyepiece) words("Eyepiece", eyepieceName(eyepiece));
  if (count.train) words("Intermediate magnification", `${count.train.intermediateMagnification}×`);
  const { result } = calibration ?? {};
  if (!calibration || !result) {
    words("Factor", "none was in force: nothing here is in micrometres");
    return;
  }
  words(
    "Factor",
    `${result.shownFactor} ± ${result.shownUncertainty} µm/div, of calibration ${calibration.id}`,
  );
  words("Due on", calibration.dueOn ?? "");
  if (stageMicrometer) words("Stage micrometer", `${stageMicrometer.name}, no. ${stageMicrometer.serial}`);
  if (certificate) words("Certificate", certificateName(certificate));
}

function writeIntervals(sheet: SheetWriter, job: CountJob): void {
  const { results } = job.bundle;
  const { poisson, betweenFields, dispersion, shortcut } = results;
  sheet.skip();
  sheet.row([text("How sure the total is", "heading")]);
  sheet.row(["95 % interval", "from", "to", "half-width"].map((heading) => text(heading, "column")));
  const line = (name: string, from: number, to: number, relative: number | null, note: string): void =>
    sheet.spread(
      [
        text(name, "field"),
        number(from, "micrometres"),
        number(to, "micrometres"),
        number(relative, "share"),
        text(note, "wrapped"),
      ],
      5,
      LAST,
    );
  const suppressed = results.poissonSuppressed ? "too narrow here: the objects lie in clusters" : "";
  const how = Number.isInteger(Number(results.total)) ? "exact" : "between whole counts";
  line(`total count (Poisson, ${how})`, poisson.lower, poisson.upper, poisson.relative, suppressed);
  if (betweenFields)
    line("scatter between fields", betweenFields.lower, betweenFields.upper, betweenFields.relative, "");
  if (shortcut !== null) {
    sheet.spread(
      [
        text("2/√n", "field"),
        EMPTY,
        EMPTY,
        number(shortcut, "share"),
        text("optimistic: for objects spread at random only", "wrapped"),
      ],
      5,
      LAST,
    );
  }
  if (!dispersion) return;
  const { ratio, index, degreesOfFreedom, twoSidedP, meaning } = dispersion;
  field(
    sheet,
    "Dispersion of the fields",
    text(
      `s²/mean ${ratio === null ? "–" : ratio.toPrecision(4)}, D = ${index === null ? "–" : index.toPrecision(5)} on ${degreesOfFreedom} degrees of freedom, two-sided p ${twoSidedP === null ? "not known" : equalsProbability(twoSidedP)}. ${meaning}`,
      "wrapped",
    ),
  );
  writeScatter(sheet, job);
}

/** Morisita's index and k as formulas on the fields, and the fit to Poisson's law. */
function writeScatter(sheet: SheetWriter, job: CountJob): void {
  const { count, fields } = job.bundle;
  const found = scatterOfFields(objectsPerField(count, fields));
  if (!found) return;
  const { morisita, negativeBinomial, fit } = found;
  const range = job.rangeOf("total");
  // Where a field in hand is part of the total but not of the scatter, the column is not what the figures rest on.
  const isLive = job.usedFields === job.countedFields;
  const figure = (name: string, value: number, expression: string): void =>
    field(sheet, name, isLive ? formula(expression, value, "plainLeft") : number(value, "plainLeft"));
  if (morisita !== null) {
    const pairs = `SUMPRODUCT(${range},${range}-1)`;
    figure("Morisita's index", morisita, `COUNT(${range})*${pairs}/(SUM(${range})*(SUM(${range})-1))`);
  }
  if (negativeBinomial !== null) {
    const excess = `(VAR(${range})-AVERAGE(${range}))`;
    const k = `(AVERAGE(${range})^2-VAR(${range})/COUNT(${range}))/${excess}`;
    figure("k of the negative binomial", negativeBinomial.k, k);
  }
  if (fit !== null) field(sheet, "Fit to Poisson's law", text(fitWords(fit), "wrapped"));
}

function writeDensities(sheet: SheetWriter, job: CountJob): void {
  const { bundle } = job;
  const { results, count } = bundle;
  sheet.skip();
  sheet.row([text("Densities", "heading")]);
  if (results.missing !== null) sheet.spread([text(results.missing, "caution")], 1, LAST);
  else if (results.densities.length === 0) sheet.row([text("This method has none.")]);
  for (const record of results.densities) {
    const name = count.categories.find((one) => one.key === record.of)?.name ?? "total";
    const grade = record.class === null ? "" : `; class ${record.class}`;
    const limits = limitsOfRecord(record);
    const beside = limits === null ? "" : `; ${limitsTitle(results)}: ${limits}`;
    field(sheet, name, text(`${record.shown}${beside}${grade}`, "wrapped"));
  }
  for (const decision of densityDecisions(bundle.method.definition, count.categories, results)) {
    field(sheet, `Limit of ${decision.name}`, text(decisionWords(decision), "wrapped"));
  }
  const { amounts, remarks } = biovolumeReport(job);
  if (amounts.length > 0) {
    sheet.skip();
    sheet.row([text("Biovolume and carbon", "heading")]);
    for (const [name, words] of amounts) field(sheet, name, text(words, "wrapped"));
    for (const remark of remarks) field(sheet, "Remark", text(remark, "wrapped"));
    sheet.skip();
  }
  if (results.fieldArea !== null)
    field(sheet, "Area of one field (mm²)", number(results.fieldArea, "plainLeft"));
  field(sheet, "Fields counted to their end", number(results.fields, "wholeLeft"));
  field(
    sheet,
    "Stopping rule",
    text(`${results.stopping.met ? "met" : "not met"}: ${results.stopping.words}`, "wrapped"),
  );
  sheet.skip();
  sheet.row([text("Cautions", "heading")]);
  const cautions = [...results.cautions, ...bundle.unproven, ...bundle.overdue, ...bundle.statedReturns];
  for (const caution of cautions) sheet.spread([text(caution, "caution")], 1, LAST);
  if (cautions.length === 0) sheet.row([text("none")]);
}

/** The report of a count: what was counted, how, under which factor, and what it says. */
export async function writeCountResults(workbook: BookWriter, job: CountJob): Promise<void> {
  const sheet = openSheet(
    workbook,
    {
      name: COUNT_WORKSHEETS.results,
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
  writeHead(sheet, job);
  writeTrain(sheet, job);
  writeCountCounts(sheet, job);
  writeDensities(sheet, job);
  writeIntervals(sheet, job);
  sheet.skip();
  sheet.row([
    text("Counted by", "field"),
    text("", "signature"),
    EMPTY,
    text("Reviewed by", "field"),
    text("", "signature"),
  ]);
  await sheet.finish();
}
