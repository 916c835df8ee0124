/**
 * Headings that formulas, the CSV file, readers of the workbook or several worksheets rely on. The language is English,
 * and the units stand in the heading. What one worksheet alone says stands in its own file.
 */

/** Columns of Rows in front of the dimensions. */
export const ROW_HEADINGS = {
  row: "Row",
  label: "Label",
  struck: "Struck",
  note: "Note and reason",
} as const;

/** Columns of one reading; of the second reading and later ones the number stands behind: `left 2 (div)`. */
export function readingHeading(what: "left" | "right" | "direct", repeat: number, typed: boolean): string {
  const name = repeat === 1 ? what : `${what} ${repeat}`;
  return typed ? `${name} as typed` : `${name} (div)`;
}

/** Columns of one dimension behind its readings. */
export const PART_HEADINGS = {
  readings: "readings",
  spread: "s of readings (div)",
  divisions: "divisions (div)",
  factor: "factor (µm/div)",
  size: "size (µm)",
  factorPart: "u from factor (µm)",
  u: "u (µm)",
  nu: "ν",
  k: "k",
  U: "U (µm)",
  recorded: "as recorded (µm)",
  objective: "objective",
  calibration: "calibration",
  calibrationId: "calibration id",
  flags: "flags",
  missing: "why no size",
  readAt: "read at (UTC)",
  readBy: "read by",
} as const;

/** Columns of one derived quantity behind the dimensions, and what stands behind them. */
export const DERIVED_HEADINGS = {
  value: "value",
  common: "u shared by the sheet",
  u: "u",
  nu: "ν",
  k: "k",
  U: "U",
  recorded: "as recorded",
  missing: "why none",
  sensitivity: (dimension: string) => `change per µm of ${dimension}`,
  classOf: (name: string, table: string) => `class of ${name} (${table})`,
  stageX: "stage x",
  stageY: "stage y",
  square: "finder-slide square",
  pictures: "pictures",
  pictureHashes: "pictures, SHA-256",
} as const;

/** Sizes that were converted elsewhere, on Rows and on Results. */
export const ELSEWHERE_HEADINGS = {
  title: "Converted elsewhere, not traceable",
  rule: "Sizes that came in µm: no reading of this bench, no factor and no certificate is behind them, and no uncertainty came with them. They are in none of the other figures. Struck rows are left out.",
  size: (dimension: string) => `${dimension}, converted elsewhere (µm)`,
  convertedBy: "converted by",
  columns: ["Dimension", "n", "converted by", "U", "s (µm)", "CV (%)", "min (µm)", "max (µm)", "mean (µm)"],
  noU: "none",
} as const;

/** Columns of the statistics on Results. */
export const STATISTICS_HEADINGS = {
  label: "Label",
  n: "n",
  mean: "mean",
  s: "s",
  variation: "CV (%)",
  least: "min",
  lower: (percent: string) => `P${percent}`,
  median: "median",
  upper: (percent: string) => `P${percent}`,
  greatest: "max",
  intervalFrom: "95 % of mean, from",
  intervalTo: "to",
  factorPart: "u from factor",
  u: "u of mean",
  nu: "ν",
  k: "k",
  U: "U of mean",
  reported: "mean ± U as exported",
} as const;

/** A class table on About. */
export const CLASS_TABLE_HEADINGS = {
  title: "Classes",
  source: "Source",
  words: "class",
  from: "looked up from",
  begins: "where it begins",
} as const;

/** Rows per class on Results. */
export const CLASS_COUNT_HEADINGS = {
  title: "classes",
  label: "Label",
  n: "n",
  others: "on a limit, in a gap or outside",
  table: "Table",
} as const;

/** Specimens by the method's own limits on Results. */
export const SIZE_CLASS_HEADINGS = {
  title: "number by size",
  containers: "Containers",
  volume: "Volume tested (mL)",
  portion: "Part of it looked at (%)",
  amount: "Looked at, for numbers",
  notNamed: "not named on the sheet",
  class: "Class",
  n: "n",
  conformity: "conformity",
  near: "within U of a limit",
  from: "from",
  below: "below",
  number: "number",
  lower: "95 % from",
  upper: "95 % to",
  lessThan: "none seen: less than",
  most: "at most",
  rule: "Exact 95 % limits of a Poisson count (Garwood 1936), for specimens spread at random; none seen is less than 2.996 specimens’ worth, 95 % one-sided. U of the amount tested is not in them. “Within U of a limit”: specimens whose size could as well lie on its other side.",
} as const;

/** The report strings on Results, and the numbers they are made of. */
export const REPORT_HEADINGS = {
  title: "In words",
  titleOfValues: "In words, as exported",
  nothing: "nothing measured",
  label: "Label",
  n: "n",
  mean: "mean",
  s: "s",
  least: "min",
  greatest: "max",
  percentile: (percent: string) => `P${percent}`,
} as const;

export const AMENDMENT_HEADINGS = {
  line: "Trail line",
  at: "at (UTC)",
  by: "by",
  act: "act",
  row: "Row",
  of: "of",
  reason: "reason",
  changed: "what changed",
  hash: "hash of the trail line",
} as const;

/** Findings of an assessment, below each factor. */
export const FINDING_HEADINGS = ["Finding", "State", "Found"] as const;

export const SETTING_HEADINGS = [
  "Settings",
  "reticle left (div)",
  "as typed",
  "reticle right (div)",
  "as typed",
  "divisions (div)",
  "micrometer line left",
  "micrometer line right",
] as const;

export const BUDGET_HEADINGS = [
  "Uncertainty budget",
  "u of the input",
  "unit",
  "divisor",
  "distribution",
  "sensitivity",
  "contribution (µm/div)",
  "ν",
  "share",
  "class",
] as const;

/** Of the conditions of a calibration. */
export const CALIBRATION_CONDITION_HEADINGS = ["Conditions", "value", "as typed", "unit"] as const;

/** Of a histogram, behind the name of its quantity. */
export const HISTOGRAM_HEADINGS = { from: "from", below: "below", rows: "rows", bar: "how many" } as const;

export const CONDITION_HEADINGS = ["Condition", "value", "unit", "how"] as const;

/** What stands on About; the check of a workbook that came back looks for these. */
export const ABOUT_FIELDS = {
  program: "Program",
  madeAt: "Made at (UTC)",
  kind: "Kind",
  sheetId: "Sheet id",
  data: "All records, SHA-256",
  paper: "Paper",
  layout: "Layout",
} as const;

/** What `ABOUT_FIELDS.data` was called before workbooks said their layout. */
export const EARLIER_DATA_FIELD = "SHA-256 of the data";

/** Counted up whenever a cell of a workbook gets another place or another text: only alike layouts can be compared. */
export const WORKBOOK_LAYOUT = 4;

export const KIND_WORDS = {
  live: "with live formulas",
  values: "values only, no formulas",
} as const;

/** The one worksheet of a series of control samples. */
export const CONTROL_TITLES = { blank: "Blanks", recovery: "Recoveries", duplicate: "Duplicates" } as const;
