import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { ExportedFile } from "../records/exchange.ts";
import { CalendarDate, Id, RequestId } from "../records/primitives.ts";
import {
  FactorOnDay,
  NewTolerance,
  SIDE_BY_SIDE,
  SideBySide,
  TrainTrend,
  TrendStanding,
  TrendTolerance,
} from "../records/trend.ts";

/** Histories of factors: derived from the records each time they are asked for, never stored. */
export const trendCalls = {
  "trends.train": call({
    kind: "read",
    input: z.strictObject({ trainId: Id }),
    output: TrainTrend,
    errors: ["train.unknown"],
  }),
  /** One line on every train of the bench. */
  "trends.standings": call({
    kind: "read",
    input: Nothing,
    output: z.array(z.strictObject({ trainId: Id, standing: TrendStanding })),
    errors: [],
  }),
  /** All objectives of a microscope, one train across people (`id`: the train), or one micrometer across microscopes. */
  "trends.sideBySide": call({
    kind: "read",
    input: z.strictObject({ view: z.enum(SIDE_BY_SIDE), id: Id }),
    output: SideBySide,
    errors: ["microscope.unknown", "train.unknown", "micrometer.unknown"],
  }),
  /** Which factors were on the bench on a day of this machine's calendar; of one train or of all. */
  "trends.onDay": call({
    kind: "read",
    input: z.strictObject({ day: CalendarDate, trainId: Id.nullable() }),
    output: z.array(FactorOnDay),
    errors: ["train.unknown"],
  }),
  /** The whole history of a train as a workbook of data; null when the person cancels. */
  "trends.workbook": call({
    kind: "read",
    input: z.strictObject({ trainId: Id }),
    output: ExportedFile.nullable(),
    errors: ["train.unknown", "file.unwritable"],
  }),
  /** What a factor of this bench may change by, %; decided with a reason. */
  "trends.setTolerance": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, tolerance: NewTolerance }),
    output: TrendTolerance,
    errors: ["person.missing"],
  }),
} as const;
