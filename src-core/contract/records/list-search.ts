import { z } from "zod";
import { CountHead } from "./count.ts";
import { Id, Instant } from "./primitives.ts";
import { Sheet } from "./sheet.ts";
import { SHEET_STATES, SheetStateLine } from "./sign-off.ts";

/** Most entries of one page of a list. */
export const MOST_ON_A_PAGE = 200;
export const LIST_SORTS = ["number", "sample", "rows"] as const;

/** What a long list is searched and narrowed by; null and empty text narrow nothing. */
const Search = z.strictObject({
  /** Every one of these words occurs in the number, the sample or the customer. */
  words: z.string().max(200),
  /** Who opened it. */
  personId: Id.nullable(),
  /** The family of its method: any version. */
  familyId: Id.nullable(),
  objectiveId: Id.nullable(),
  /** Opened at this instant or later, and before that one. */
  since: Instant.nullable(),
  until: Instant.nullable(),
  sort: z.enum(LIST_SORTS),
  descending: z.boolean(),
  /** Entries of earlier pages. */
  skip: z.int().min(0),
  count: z.int().min(1).max(MOST_ON_A_PAGE),
});

export const SheetSearch = Search.extend({ state: z.enum(SHEET_STATES).nullable() });
export type SheetSearch = z.infer<typeof SheetSearch>;

export const FoundSheets = z.strictObject({
  /** On all pages together. */
  total: z.int(),
  sheets: z.array(Sheet),
  /** Of those on this page that are not open. */
  states: z.array(SheetStateLine),
});

export const CountSearch = Search.extend({ state: z.enum(["open", "closed"]).nullable() });
export type CountSearch = z.infer<typeof CountSearch>;

export const FoundCounts = z.strictObject({ total: z.int(), counts: z.array(CountHead) });

/** What lines of the audit trail are narrowed by. */
export const TrailSearch = z.strictObject({
  /** Every one of these words occurs in the act, the subject, the reason or the detail. */
  words: z.string().max(200),
  personId: Id.nullable(),
  since: Instant.nullable(),
  until: Instant.nullable(),
});
export type TrailSearch = z.infer<typeof TrailSearch>;

/** A row found by its label. */
export const LabelledRow = z.strictObject({
  rowId: Id,
  sheetId: Id,
  sheetNumber: z.string(),
  sample: z.string(),
  ordinal: z.int().min(1),
  label: z.string(),
});
export type LabelledRow = z.infer<typeof LabelledRow>;

/** What calibrations are narrowed by. */
export const CalibrationSearch = TrailSearch.extend({
  /** Every one of these words occurs in the remark, the certificate, the micrometer, the microscope or the objective. */
  words: TrailSearch.shape.words,
  trainId: Id.nullable(),
});
export type CalibrationSearch = z.infer<typeof CalibrationSearch>;
