import { z } from "zod";
import { Attachment } from "./attachment.ts";
import { Id, Instant, Name, OptionalLine } from "./primitives.ts";
import { SHEET_STATES } from "./sign-off.ts";
import { TrailHead } from "./trail.ts";

/** What a sheet can be written as: a workbook with live formulas or with values only, one table, or the records. */
export const EXPORT_FORMATS = ["live workbook", "values workbook", "csv", "json"] as const;
export type ExportFormat = (typeof EXPORT_FORMATS)[number];

export const PAPERS = ["A4", "Letter"] as const;
export type Paper = (typeof PAPERS)[number];

export const ExportChoice = z.strictObject({
  /** The sheets of one job, in this order. */
  sheetIds: z.array(Id).min(1, "needs at least one sheet").max(50, "has too many sheets: at most 50"),
  format: z.enum(EXPORT_FORMATS),
  /** Of a workbook's print set-up. */
  paper: z.enum(PAPERS),
});
export type ExportChoice = z.infer<typeof ExportChoice>;

export const ExportedFile = z.strictObject({
  fileName: z.string(),
  /** Where it was written on this machine. */
  path: z.string(),
  bytes: z.int(),
  /** SHA-256 of the exported data (not of the file), printed on the workbook's About sheet. */
  dataSha256: z.string(),
  /** Address relative to the program's window from which the browser can save it; null in the Electron host. */
  download: z.string().nullable(),
});
export type ExportedFile = z.infer<typeof ExportedFile>;

export const EXPORT_STATES = ["writing", "done", "cancelled", "failed"] as const;

/** How far an export has come. */
export const ExportProgress = z.strictObject({
  exportId: Id,
  state: z.enum(EXPORT_STATES),
  fileName: z.string(),
  /** Rows written of the rows of all its sheets. */
  rows: z.int(),
  ofRows: z.int(),
  /** Set when done. */
  file: ExportedFile.nullable(),
  /** Set when failed: what happened, and what to do next. */
  trouble: z.strictObject({ message: z.string(), hint: z.string() }).nullable(),
});
export type ExportProgress = z.infer<typeof ExportProgress>;

/** The largest file that is taken in, bytes. */
export const LARGEST_UPLOAD = 64 * 1024 * 1024;
/** Bytes of one part; as base64 it stays below the loopback host's limit of a request. */
export const UPLOAD_PART = 512 * 1024;

/** A file being taken in part by part; kept on this machine until it is forgotten or the program ends. */
export const Upload = z.strictObject({
  uploadId: Id,
  fileName: z.string(),
  bytes: z.int(),
  received: z.int(),
});
export type Upload = z.infer<typeof Upload>;

export const CellDifference = z.strictObject({
  worksheet: z.string(),
  /** `C12` */
  cell: z.string(),
  found: z.string(),
  expected: z.string(),
});
export type CellDifference = z.infer<typeof CellDifference>;

export const CHECK_VERDICTS = ["unchanged", "changed", "earlier layout", "not ours"] as const;

/** What a workbook that came back is worth. */
export const CheckReport = z.strictObject({
  fileName: z.string(),
  verdict: z.enum(CHECK_VERDICTS),
  /** One sentence for the person. */
  words: z.string(),
  /** The sheets it says it was made from. */
  sheets: z.array(z.string()),
  exportedAt: Instant.nullable(),
  program: z.string().nullable(),
  printedSha256: z.string().nullable(),
  /** SHA-256 of the same data as the bench has them now; null when the bench has not those sheets. */
  presentSha256: z.string().nullable(),
  cells: z.int(),
  differences: z.array(CellDifference),
  /** Differences found in all; at most 200 are listed. */
  differing: z.int(),
});
export type CheckReport = z.infer<typeof CheckReport>;

export const IMPORT_ROLES = ["label", "note", "left", "right", "divisions", "micrometres"] as const;
export type ImportRole = (typeof IMPORT_ROLES)[number];

/** What one column of the file becomes. */
export const ImportColumn = z.strictObject({
  /** 0-based position in the file. */
  column: z.int().min(0).max(199),
  role: z.enum(IMPORT_ROLES),
  /** For readings: the dimension of the method. */
  dimension: z.string().nullable(),
});
export type ImportColumn = z.infer<typeof ImportColumn>;

/** How a file of earlier readings is to be understood. */
export const ImportChoice = z.strictObject({
  uploadId: Id,
  /** Of a workbook; null for text. */
  worksheet: z.string().nullable(),
  /** Lines above the first reading. */
  headingLines: z.int().min(0).max(100),
  columns: z.array(ImportColumn).max(50),
  methodId: Id,
  /** Factor or program that made the sizes in µm; must be said where a column holds such. */
  convertedBy: z.string().trim().max(200).default(""),
});
export type ImportChoice = z.infer<typeof ImportChoice>;

/** A file of earlier readings as it was read, before anybody has said what its columns mean. */
export const ImportTable = z.strictObject({
  fileName: z.string(),
  kind: z.enum(["csv", "tsv", "xlsx"]),
  sha256: z.string(),
  /** Worksheets of a workbook; empty for text. */
  worksheets: z.array(z.string()),
  worksheet: z.string().nullable(),
  lines: z.int(),
  columns: z.int(),
  /** The first lines, cell by cell, as found. */
  sample: z.array(z.array(z.string())),
  /** What the first line suggests, for the dimensions of the method given. */
  suggested: z.strictObject({ headingLines: z.int(), columns: z.array(ImportColumn) }),
});
export type ImportTable = z.infer<typeof ImportTable>;

export const RefusedCell = z.strictObject({
  /** 1-based line of the file. */
  line: z.int(),
  column: z.int(),
  text: z.string(),
  reason: z.string(),
});
export type RefusedCell = z.infer<typeof RefusedCell>;

/**
 * Said of every size that came in µm already: nothing leads from it back to a calibration. Earlier programs wrote it into
 * the note of the row and kept no more of it.
 */
export const CONVERTED_ELSEWHERE = "converted elsewhere, not traceable";

/** What an import would become; nothing is stored by it. */
export const ImportPreview = z.strictObject({
  /** Lines that become rows, and lines left out because a cell of theirs was refused. */
  rows: z.int(),
  refusedLines: z.int(),
  readings: z.int(),
  /** Values converted elsewhere: kept with their row, not traceable, in no result. */
  convertedElsewhere: z.int(),
  first: z.array(
    z.strictObject({
      line: z.int(),
      label: z.string(),
      note: z.string(),
      /** `length: 23.0 … 51.5`, as it will be entered. */
      readings: z.array(z.string()),
    }),
  ),
  /** At most 200 are listed. */
  refused: z.array(RefusedCell),
});
export type ImportPreview = z.infer<typeof ImportPreview>;

/** One line of statistics as printed; text, because rounding is part of it. */
export const ReportLine = z.strictObject({
  label: z.string(),
  n: z.int(),
  /** `25.31 ± 0.42`, or why there is none. */
  mean: z.string(),
  coverage: z.string(),
  s: z.string(),
  variation: z.string(),
  least: z.string(),
  greatest: z.string(),
  percentiles: z.array(z.string()),
  interval: z.string(),
  /** How many fell into each class, where the method has classes; else empty. */
  classes: z.string(),
});
export type ReportLine = z.infer<typeof ReportLine>;

export const ReportTable = z.strictObject({
  name: z.string(),
  /** `µm`; empty for a pure number. */
  unit: z.string(),
  percentileHeadings: z.array(z.string()),
  lines: z.array(ReportLine),
  histogram: z.array(z.strictObject({ from: z.string(), to: z.string(), count: z.int() })),
});
export type ReportTable = z.infer<typeof ReportTable>;

/** Closing, review or signature as the report names it. */
export const ReportSignOff = z.strictObject({
  kind: z.enum(["closed", "reviewed", "signed"]),
  at: Instant,
  by: z.string(),
  words: z.string(),
  rowsSha256: z.string(),
  /** It stands, and for the rows and results as they are now. */
  isPresent: z.boolean(),
  ended: z.strictObject({ at: Instant, by: z.string(), reason: z.string() }).nullable(),
  /** The PIN had been reset, by whose word, and its owner had not confirmed that. */
  pinReset: z.strictObject({ at: Instant, voucher: z.string() }).nullable(),
});
export type ReportSignOff = z.infer<typeof ReportSignOff>;

/** One second reading; figures are text as printed, µm, second less first. */
export const ReportSecondReading = z.strictObject({
  number: z.int(),
  reader: z.string(),
  sameReader: z.boolean(),
  startedAt: Instant,
  /** null while it is open: nothing of it is told before. */
  closedAt: Instant.nullable(),
  rows: z.int(),
  drawn: z.boolean(),
  agreement: z.array(
    z.strictObject({
      name: z.string(),
      n: z.int(),
      bias: z.string(),
      limits: z.string(),
      technicalError: z.string(),
    }),
  ),
});
export type ReportSecondReading = z.infer<typeof ReportSecondReading>;

export const ReportAmendment = z.strictObject({
  at: Instant,
  by: z.string(),
  what: z.string(),
  reason: z.string(),
});
export type ReportAmendment = z.infer<typeof ReportAmendment>;

/** Numbers of specimens by size, as printed. */
export const ReportBySize = z.strictObject({
  /** `Length: number by size, /container`. */
  title: z.string(),
  /** What the specimens come from, and what is missing. */
  amount: z.string(),
  /** `/container`, `/mL`, `on the sheet`. */
  basis: z.string(),
  lines: z.array(
    z.strictObject({
      words: z.string(),
      counted: z.int(),
      near: z.int(),
      /** Empty while the amount is not named. */
      number: z.string(),
      interval: z.string(),
      most: z.string(),
      verdict: z.string(),
    }),
  ),
  notes: z.array(z.string()),
});
export type ReportBySize = z.infer<typeof ReportBySize>;

/** A picture on a row, with where the row lies on the stage in words. */
export const ReportPicture = z.strictObject({
  ordinal: z.int(),
  label: z.string(),
  place: z.string(),
  attachment: Attachment,
});
export type ReportPicture = z.infer<typeof ReportPicture>;

/** Sizes of one dimension that were converted elsewhere, apart from all other statistics: as printed, µm. */
export const ReportElsewhere = z.strictObject({
  name: z.string(),
  convertedBy: z.string(),
  n: z.int(),
  mean: z.string(),
  s: z.string(),
  least: z.string(),
  greatest: z.string(),
});
export type ReportElsewhere = z.infer<typeof ReportElsewhere>;

/** A sheet as a page for a customer or an assessor. */
export const SheetReport = z.strictObject({
  sheetId: Id,
  number: z.string(),
  sample: Name,
  note: z.string(),
  madeAt: Instant,
  program: z.string(),
  laboratory: z.strictObject({ name: z.string(), address: z.string() }),
  /** Of all records, as the workbook, CSV and JSON print it. */
  dataSha256: z.string(),
  /** Of rows and results, as closing, review and signature name it. */
  rowsSha256: z.string(),
  trailHead: TrailHead.nullable(),
  /** That head with its signature, or why it has none; see `PrintedHead`. */
  headSigned: z.string().nullable(),
  readFrom: Instant.nullable(),
  readTo: Instant.nullable(),
  /** Pairs of name and value, in order: method, train, people. */
  facts: z.array(z.strictObject({ name: z.string(), value: z.string() })),
  /** Per factor used: `Calibration 1`, its factor, micrometer and certificate. */
  factors: z.array(z.strictObject({ name: z.string(), value: z.string() })),
  tables: z.array(ReportTable),
  /** Not traceable, and in none of the tables above; empty where nothing was converted elsewhere. */
  elsewhere: z.array(ReportElsewhere),
  strings: z.array(z.strictObject({ label: OptionalLine, text: z.string() })),
  struck: z.array(z.strictObject({ ordinal: z.int(), label: z.string(), reason: z.string() })),
  struckTotal: z.int(),
  cautions: z.array(z.string()),
  /** Specimens by the method's own limits, per container, mL or sheet; null for a method without. */
  bySize: ReportBySize.nullable(),
  /** One line per limit of the method: the limits, the rule, and how many specimens or which number conforms. */
  conformity: z.array(z.string()),
  rules: z.array(z.string()),
  secondReadings: z.array(ReportSecondReading),
  /** Changes of readings and results after they were entered, oldest first; the total says how many there are. */
  amendments: z.array(ReportAmendment),
  amendmentsTotal: z.int(),
  state: z.enum(SHEET_STATES),
  /** Oldest first, also those that fell. */
  signOffs: z.array(ReportSignOff),
  /** Pictures on rows of the sheet, by row; withdrawn ones are left out. */
  pictures: z.array(ReportPicture),
});
export type SheetReport = z.infer<typeof SheetReport>;
