import { workingWords } from "#core/calibration/working-factor.ts";
import type {
  ReportBySize,
  ReportElsewhere,
  ReportLine,
  ReportPicture,
  ReportTable,
  SheetReport,
} from "#core/contract/records/exchange.ts";
import { AMOUNT_KEYS, type TestedAmount } from "#core/contract/records/tested-amount.ts";
import {
  amountWords,
  BASIS_WORDS,
  plainNumberWords,
  shownNumber,
} from "#core/counting/results/size-class-results.ts";
import { ownFormulaLines } from "#core/measurement/derived-kind.ts";
import { wordsOfDecision } from "#core/measurement/method-limits.ts";
import { placeWords } from "#core/measurement/place-words.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { printedNumber } from "#core/quantity/printed-number.ts";
import { formatToPlaces, reportWithUncertainty } from "#core/quantity/rounding.ts";
import { classWords } from "../workbook/sheet-book/class-lines.ts";
import { conformityLines } from "../workbook/sheet-book/conformity-lines.ts";
import { elsewhereFigures } from "../workbook/sheet-book/elsewhere-cells.ts";
import { histogramOf } from "../workbook/sheet-book/histogram-classes.ts";
import type { WorkbookJob } from "../workbook/sheet-book/job.ts";
import { worstInverseNu } from "../workbook/sheet-book/job.ts";
import type { LabelStatistics } from "../workbook/sheet-book/label-statistics.ts";
import { certificateName, confirmedWords, eyepieceName } from "../workbook/sheet-book/lookups.ts";
import { reportStrings } from "../workbook/sheet-book/report-lines.ts";
import { cautionsOf, groupsOf } from "../workbook/sheet-book/results-sheet.ts";
import { sizeClassesOf } from "../workbook/sheet-book/size-class-cells.ts";
import {
  type StatisticsGroup,
  type StatisticsSource,
  shownMean,
  statisticsOf,
  statisticsSources,
} from "../workbook/sheet-book/statistics-cells.ts";
import { SIZE_CLASS_HEADINGS } from "../workbook/words/headings.ts";
import { COVERAGE_WORDS, ROUNDING_WORDS } from "../workbook/words/words.ts";
import { amendmentsOf, secondReadingsOf, signOffsOf } from "./report-history.ts";

/** Words that name a worksheet make no sense on a page. */
const ON_PAPER = "paper";
/** Struck rows listed by name; the count says how many there are. */
export const MOST_STRUCK_LISTED = 200;

/** Places after the point that fit the uncertainty of the mean, so that a line reads as one. */
function placesOf({ mean, U }: LabelStatistics): number {
  if (mean === null || U === null || U === 0) return 2;
  return Math.max(0, reportWithUncertainty(decimal(mean), decimal(U)).places);
}

function shown(value: number | null, places: number, job: WorkbookJob): string {
  if (value === null) return "";
  return printedNumber(formatToPlaces(decimal(value), places, job.bundle.method.definition.rounding));
}

function lineOf(
  group: StatisticsGroup,
  source: StatisticsSource,
  job: WorkbookJob,
  worst: number,
): ReportLine {
  const result = statisticsOf(group, source, job, worst);
  const places = placesOf(result);
  const cell = (value: number | null): string => shown(value, places, job);
  const table = job.bundle.method.definition.classes.find((one) => one.of === source.key);
  return {
    label: group.label ?? "All counted rows",
    n: result.n,
    mean: printedNumber(shownMean(result, job, ON_PAPER)),
    coverage: result.k === null ? "" : formatToPlaces(decimal(result.k), 2),
    s: shown(result.s, places + 1, job),
    variation: shown(result.variation, 1, job),
    least: cell(result.min),
    greatest: cell(result.max),
    percentiles: [cell(result.lower), cell(result.median), cell(result.upper)],
    interval: result.from === null ? "" : `${cell(result.from)} to ${cell(result.to)}`,
    classes: table === undefined ? "" : classWords(job, table.of, table.tableId, group.label),
  };
}

function tablesOf(job: WorkbookJob): ReportTable[] {
  const { percentiles } = job.bundle.method.definition;
  const worst = worstInverseNu(job);
  return statisticsSources(job).map((source) => ({
    name: source.name,
    unit: source.unit === "1" ? "" : source.unit,
    percentileHeadings: [`P${percentiles.lower}`, "median", `P${percentiles.upper}`],
    lines: groupsOf(source.key, job).map((group) => lineOf(group, source, job, worst)),
    histogram: histogramOf(job.survey.all.get(source.key)?.sizes ?? []).map(({ from, to, count }) => ({
      from: String(from),
      to: String(to),
      count,
    })),
  }));
}

/** Of a µm; how well these sizes are known, nobody has said. */
const PLACES_ELSEWHERE = 2;

function elsewhereOf(job: WorkbookJob): ReportElsewhere[] {
  const { dimensions } = job.bundle.method.definition;
  return job.survey.elsewhere.origins.map(({ dimension, convertedBy, sizes }) => {
    const { n, ...figures } = elsewhereFigures(sizes);
    const cell = (value: number | null): string => shown(value, PLACES_ELSEWHERE, job);
    return {
      name: dimensions.find(({ key }) => key === dimension)?.name ?? dimension,
      convertedBy,
      n,
      mean: cell(figures.mean),
      s: cell(figures.s),
      least: cell(figures.least),
      greatest: cell(figures.greatest),
    };
  });
}

/** The amount tested as named, empty where it is not. */
function amountNamed(sheet: TestedAmount): string {
  return AMOUNT_KEYS.some((key) => sheet[key]) ? amountWords("sheet", sheet) : "";
}

function factsOf(job: WorkbookJob): { name: string; value: string }[] {
  const { bundle, lookups, survey } = job;
  const { definition, version } = bundle.method;
  const eyepiece = bundle.microscope.eyepieces.find((one) => one.id === bundle.sheet.eyepieceId);
  const facts = {
    Customer: bundle.sheet.customer ?? "",
    Method: `${definition.name}, version ${version}`,
    "Edge convention": definition.edgeConvention,
    Microscope: bundle.microscope.name,
    "Eyepiece and reticle": eyepiece === undefined ? "" : eyepieceName(eyepiece),
    "Set-up confirmed": confirmedWords(bundle, lookups),
    "Read by": survey.enteredBy.map(lookups.person).join(", "),
    "What they come from": amountNamed(bundle.sheet),
    Specimens: `${printedNumber(String(survey.rows))} on the sheet, ${printedNumber(String(survey.struck))} struck`,
  };
  return Object.entries(facts)
    .filter(([, value]) => value !== "")
    .map(([name, value]) => ({ name, value }));
}

function factorsOf(job: WorkbookJob): { name: string; value: string }[] {
  return job.lookups.calibrations.map(({ number, record, train, micrometer, certificate }) => ({
    name: `Calibration ${number}`,
    value: [
      train === null ? "" : job.lookups.objective(train.id),
      record.result === null
        ? "no result"
        : `${printedNumber(`${record.result.shownFactor} ± ${record.result.shownUncertainty}`)} µm/div (k = ${formatToPlaces(decimal(record.result.coverageFactor), 2)})${workingWords(record.result)}`,
      record.inForceAt === null ? "" : `in force since ${record.inForceAt.slice(0, 10)}`,
      record.dueOn === null ? "" : `due ${record.dueOn}`,
      micrometer === null ? "" : `stage micrometer ${micrometer.name}, no. ${micrometer.serial}`,
      certificate === null
        ? "certificate not found"
        : `certificate ${certificateName(certificate)}, due ${certificate.dueOn}`,
    ]
      .filter((part) => part !== "")
      .join("; "),
  }));
}

function struckOf(job: WorkbookJob): SheetReport["struck"] {
  const listed: SheetReport["struck"] = [];
  if (job.survey.struck === 0) return listed;
  for (const row of job.bundle.rows()) {
    if (row.struck === null) continue;
    listed.push({ ordinal: row.ordinal, label: row.label, reason: row.struck.reason });
    if (listed.length === Math.min(MOST_STRUCK_LISTED, job.survey.struck)) break;
  }
  return listed;
}

function picturesOf({ bundle, pictures }: WorkbookJob): ReportPicture[] {
  if (pictures.size === 0) return [];
  const listed: ReportPicture[] = [];
  for (const { id, ordinal, label, stage } of bundle.rows()) {
    const place = stage === null ? "" : placeWords(stage);
    for (const attachment of pictures.get(id) ?? []) listed.push({ ordinal, label, place, attachment });
  }
  return listed;
}

function rulesOf(job: WorkbookJob): string[] {
  const { coverage, rounding, percentiles } = job.bundle.method.definition;
  return [
    "U of a mean joins the scatter of the specimens with what all of them share: the factor and the edges.",
    `Coverage: ${COVERAGE_WORDS[coverage]}.`,
    `U to two significant digits, the value to the same place (JCGM 100:2008 7.2.6); ${ROUNDING_WORDS[rounding]}.`,
    "The 95 % interval of the mean is Student's, from the scatter alone.",
    `Percentiles are of type ${percentiles.type} of Hyndman and Fan 1996.`,
    ...ownFormulaLines(job.bundle.method.definition),
  ];
}

function bySizeOf(job: WorkbookJob): ReportBySize | null {
  const found = sizeClassesOf(job);
  if (!found) return null;
  const { sizeClasses, quantity, results } = found;
  const basis = BASIS_WORDS[sizeClasses.per];
  return {
    title: `${quantity.name}: ${SIZE_CLASS_HEADINGS.title}`,
    amount: amountWords(sizeClasses.per, job.bundle.sheet),
    basis,
    lines: results.map(({ words, counted, near, number, most, conforms }) => ({
      words,
      counted,
      near,
      number: number === null ? "" : printedNumber(plainNumberWords(number)),
      interval:
        number === null ? "" : printedNumber(`${shownNumber(number.lower)} to ${shownNumber(number.upper)}`),
      most: printedNumber(most?.toFixed() ?? ""),
      verdict: conforms === null ? "" : wordsOfDecision({ conforms }),
    })),
    notes: [
      SIZE_CLASS_HEADINGS.rule,
      ...(sizeClasses.source === "" ? [] : [`Limits: ${sizeClasses.source}`]),
    ],
  };
}

/** A sheet as a page that a customer can read, from the same numbers as its workbook. */
export function sheetReport(job: WorkbookJob): SheetReport {
  const { bundle, survey } = job;
  return {
    sheetId: bundle.sheet.id,
    number: bundle.sheet.number,
    sample: bundle.sheet.sample,
    note: bundle.sheet.note,
    madeAt: bundle.asOf,
    program: job.programLine,
    laboratory: bundle.bench?.laboratory ?? { name: "", address: "" },
    dataSha256: survey.dataSha256,
    rowsSha256: bundle.bench?.rowsSha256 ?? "",
    trailHead: bundle.bench?.trailHead ?? null,
    headSigned: bundle.bench?.headSigned ?? null,
    readFrom: survey.firstEnteredAt,
    readTo: survey.lastEnteredAt,
    facts: factsOf(job),
    factors: factorsOf(job),
    tables: tablesOf(job),
    elsewhere: elsewhereOf(job),
    strings: reportStrings(job),
    struck: struckOf(job),
    struckTotal: survey.struck,
    cautions: cautionsOf(job, true, ON_PAPER),
    bySize: bySizeOf(job),
    conformity: conformityLines(job),
    rules: rulesOf(job),
    secondReadings: secondReadingsOf(job),
    ...amendmentsOf(job),
    state: bundle.bench?.state ?? "open",
    signOffs: signOffsOf(job),
    pictures: picturesOf(job),
  };
}
