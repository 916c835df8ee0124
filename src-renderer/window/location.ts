import { z } from "zod";
import { Id } from "#core/contract/records/primitives.ts";
import { TraceSubject } from "#core/contract/records/trace.ts";

export const REGISTERS = ["people", "microscopes", "micrometers", "methods", "laboratory"] as const;
export type RegisterName = (typeof REGISTERS)[number];

export const TABS = [
  "sheets",
  "summary",
  "calibrations",
  "exchange",
  "import",
  "trail",
  "verify",
  "backups",
  "report",
] as const;
export type TabName = (typeof TABS)[number];

export const COUNT_PARTS = ["counts", "methods", "lists", "recounts", "controls"] as const;
export type CountPart = (typeof COUNT_PARTS)[number];

export const TREND_PARTS = ["train", "microscope", "people", "micrometer", "day"] as const;
export type TrendPart = (typeof TREND_PARTS)[number];

export const PRACTICE_PARTS = ["exercises", "free", "own", "results", "class", "proven", "criteria"] as const;

export const ABOUT_PARTS = [
  "program",
  "handbook",
  "news",
  "cautions",
  "model",
  "selftest",
  "licences",
] as const;
export type AboutPart = (typeof ABOUT_PARTS)[number];

/** The pages of the handbook, by the name of their file. */
export const HandbookPageName = z.enum([
  "first-hour",
  "calibrate",
  "tenths",
  "edges",
  "uncertainty",
  "objectives",
  "micrometers",
  "measure",
  "count",
  "trends",
  "trace",
  "records",
  "registers",
  "practice",
  "settings",
  "words",
]);
export type HandbookPageName = z.infer<typeof HandbookPageName>;

/** Where the person is: one screen with what it has open. Plain data, so that it survives a reload. */
export const Location = z.discriminatedUnion("screen", [
  z.strictObject({ screen: z.literal("bench") }),
  z.strictObject({
    screen: z.literal("calibrate"),
    trainId: Id.nullable(),
    /** A draft to go on with. */
    calibrationId: Id.nullable(),
    /** The quick check of the factor in force instead of a calibration. */
    check: z.literal(true).optional(),
  }),
  z.strictObject({
    screen: z.literal("measure"),
    sheetId: Id.nullable(),
    /** The row to begin at, from 1; the first free one without it. */
    row: z.int().min(1).optional(),
    /** Second readings of the sheet instead of its rows: the list of them, or one. */
    second: z.union([z.literal("list"), Id]).optional(),
  }),
  z.strictObject({
    screen: z.literal("count"),
    part: z.enum(COUNT_PARTS),
    /** The count, method, list or recount shown; null: the list. */
    recordId: Id.nullable(),
  }),
  z.strictObject({
    screen: z.literal("trends"),
    part: z.enum(TREND_PARTS),
    /** The train, microscope or micrometer shown; null: the first there is. */
    subjectId: Id.nullable(),
  }),
  z.strictObject({
    screen: z.literal("registers"),
    register: z.enum(REGISTERS),
    /** The record shown; null: none yet. */
    recordId: Id.nullable(),
    /** The form shown in place of the record. */
    form: z.enum(["new", "objective", "eyepiece", "certificate", "version", "card", "labels"]).nullable(),
  }),
  z.strictObject({ screen: z.literal("records"), tab: z.enum(TABS), recordId: Id.nullable() }),
  z.strictObject({
    screen: z.literal("trace"),
    /** Backward: the result whose chain is shown, or the page by which it is recomputed by hand. */
    result: z.strictObject({ rowId: Id, dimension: z.string(), byHand: z.boolean().optional() }).nullable(),
    /** Forward: what one looks forward from; null: not chosen yet. */
    subject: TraceSubject.nullable(),
  }),
  z.strictObject({
    screen: z.literal("practice"),
    part: z.enum(PRACTICE_PARTS),
    /** The attempt under way or ended; null: none open. */
    attemptId: Id.nullable(),
  }),
  z.strictObject({ screen: z.literal("settings") }),
  z.strictObject({
    screen: z.literal("about"),
    part: z.enum(ABOUT_PARTS),
    /** The page of the handbook shown. */
    page: HandbookPageName.optional(),
  }),
]);
export type Location = z.infer<typeof Location>;
export type ScreenName = Location["screen"];
/** The places of one screen. */
export type LocationOf<N extends ScreenName> = Extract<Location, { screen: N }>;

export const SCREENS = [
  "bench",
  "calibrate",
  "measure",
  "count",
  "trends",
  "registers",
  "records",
  "trace",
  "practice",
  "settings",
  "about",
] as const;

/** Where a screen opens when nothing particular is asked of it. */
export const SCREEN_START: { readonly [N in ScreenName]: Extract<Location, { screen: N }> } = {
  bench: { screen: "bench" },
  calibrate: { screen: "calibrate", trainId: null, calibrationId: null },
  measure: { screen: "measure", sheetId: null },
  count: { screen: "count", part: "counts", recordId: null },
  trends: { screen: "trends", part: "train", subjectId: null },
  registers: { screen: "registers", register: "microscopes", recordId: null, form: null },
  records: { screen: "records", tab: "sheets", recordId: null },
  trace: { screen: "trace", result: null, subject: null },
  practice: { screen: "practice", part: "exercises", attemptId: null },
  settings: { screen: "settings" },
  about: { screen: "about", part: "program" },
};

export const SCREEN_TITLES: Readonly<Record<ScreenName, string>> = {
  bench: "Bench",
  calibrate: "Calibrate",
  measure: "Measure",
  count: "Count",
  trends: "Trends",
  registers: "Registers",
  records: "Records",
  trace: "Trace",
  practice: "Practice",
  settings: "Settings",
  about: "About",
};
