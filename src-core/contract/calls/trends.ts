import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { ExportProgress } from "../records/exchange.ts";
import { CalendarDate, Id, RequestId } from "../records/primitives.ts";
import {
  ChartPng,
  FactorOnDay,
  NewTolerance,
  SIDE_BY_SIDE,
  SideBySide,
  TrainTrend,
  TrendTolerance,
  TrendVerdict,
  TrendViewChoice,
} from "../records/trend.ts";
import { HISTORY } from "../tags.ts";

/** Histories of factors: derived from the records each time they are asked for, never stored. */
export const trendCalls = {
  "trends.train": call({
    kind: "read",
    reads: HISTORY,
    input: z.strictObject({ trainId: Id }),
    output: TrainTrend,
    errors: ["train.unknown"],
  }),
  /** One line on every train of the bench. */
  "trends.verdicts": call({
    kind: "read",
    reads: HISTORY,
    input: Nothing,
    output: z.array(z.strictObject({ trainId: Id, verdict: TrendVerdict })),
    errors: [],
  }),
  /** All objectives of a microscope, one train across people (`id`: the train), or one micrometer across microscopes. */
  "trends.sideBySide": call({
    kind: "read",
    reads: HISTORY,
    input: z.strictObject({ view: z.enum(SIDE_BY_SIDE), id: Id }),
    output: SideBySide,
    errors: ["microscope.unknown", "train.unknown", "micrometer.unknown"],
  }),
  /** Which factors were on the bench on a day of this machine's calendar; of one train or of all. */
  "trends.onDay": call({
    kind: "read",
    reads: HISTORY,
    input: z.strictObject({ day: CalendarDate, trainId: Id.nullable() }),
    output: z.array(FactorOnDay),
    errors: ["train.unknown"],
  }),
  /**
   * Begins to write the whole history of a train as a workbook of data, with the window's picture of the chart where one is given; null
   * when the person cancels.
   */
  "trends.workbook": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ trainId: Id, png: ChartPng.nullable().default(null) }),
    output: ExportProgress.nullable(),
    errors: ["train.unknown", "file.unwritable"],
  }),
  /** The chart of a train as the text of an SVG document, px: what a file of it holds, and what the window makes a PNG of. */
  "trends.drawing": call({
    kind: "read",
    reads: [...HISTORY, "trail"],
    input: z.strictObject({ trainId: Id, view: TrendViewChoice }),
    output: z.strictObject({ svg: z.string(), width: z.int(), height: z.int() }),
    errors: ["train.unknown"],
  }),
  /** The chart of a train as an SVG file that stands by itself; null when the person cancels. */
  "trends.picture": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ trainId: Id, view: TrendViewChoice }),
    output: ExportProgress.nullable(),
    errors: ["train.unknown", "file.unwritable"],
  }),
  /** Histories as they stand side by side, as an SVG file that stands by itself; null when the person cancels. */
  "trends.seriesPicture": call({
    kind: "read",
    reads: [],
    input: z.strictObject({
      view: z.enum(SIDE_BY_SIDE),
      id: Id,
      notation: TrendViewChoice.shape.notation,
    }),
    output: ExportProgress.nullable(),
    errors: ["microscope.unknown", "train.unknown", "micrometer.unknown", "file.unwritable"],
  }),
  /** What a factor of this bench may change by, %; decided with a reason. */
  "trends.setTolerance": call({
    kind: "write",
    changes: ["tolerances", "trail"],
    input: z.strictObject({ requestId: RequestId, tolerance: NewTolerance }),
    output: TrendTolerance,
    errors: ["person.missing"],
  }),
} as const;
