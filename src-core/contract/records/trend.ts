import { z } from "zod";
import { DATE_FORMS, DECIMAL_SIGNS } from "../../quantity/shown-text.ts";
import { AGREEMENT_VERDICTS } from "../../vocabulary/calibration.ts";
import { DECISION_RULES } from "../../vocabulary/decision-rules.ts";
import { TREND_UNITS } from "../../vocabulary/trend-unit.ts";
import { LIMIT_KINDS, RUN_RULES } from "../../vocabulary/trends.ts";
import { BASE64 } from "./attachment.ts";
import { CALIBRATION_STATES } from "./calibration.ts";
import { CalendarDate, Id, Instant, Reason, StoredDecimal } from "./primitives.ts";
import { typedDecimal } from "./typed-number.ts";

/** From … to, in the unit of the value it limits. */
const Limits = z.strictObject({ lower: StoredDecimal, upper: StoredDecimal });

/** A rule that fires at a point, with the points that make the pattern (places in `TrainTrend.points`). */
export const TrendSignal = z.strictObject({
  rule: z.enum([...RUN_RULES, "limits", "jump"]),
  /** `hint`: worth a look, no signal by itself. */
  weight: z.enum(["signal", "hint"]),
  points: z.array(z.int()),
  words: z.string(),
});
export type TrendSignal = z.infer<typeof TrendSignal>;

/** One calibration of the train as a point of its history; µm/div. */
export const TrendPoint = z.strictObject({
  calibrationId: Id,
  state: z.enum(CALIBRATION_STATES),
  at: Instant,
  date: CalendarDate,
  factor: StoredDecimal,
  expandedUncertainty: StoredDecimal,
  shownFactor: z.string(),
  shownUncertainty: z.string(),
  personId: Id,
  person: z.string(),
  stageMicrometerId: Id,
  micrometer: z.string(),
  certificate: z.string(),
  /** Place in `TrainTrend.baselines`; −1 where no calibration of the stretch counts. */
  baseline: z.int(),
  /** False: withdrawn, or apart from both neighbours; drawn, but in no limit, line or comparison. */
  counts: z.boolean(),
  /** E_n against the calibration before it that counts, and with the reference they share taken out; null at the first. */
  normalisedError: StoredDecimal.nullable(),
  normalisedErrorApart: StoredDecimal.nullable(),
  agreement: z.enum(AGREEMENT_VERDICTS).nullable(),
  /** Against the limits of the points before it. */
  level: z.enum(["within", "warning", "action"]),
  signals: z.array(TrendSignal),
});
export type TrendPoint = z.infer<typeof TrendPoint>;

/** A stretch of the history that is charted as one series. */
export const TrendBaseline = z.strictObject({
  /** What began it; null for the first. */
  begunBy: z.string().nullable(),
  from: CalendarDate,
  /** First and last day drawn. */
  to: CalendarDate,
  kind: z.enum(LIMIT_KINDS),
  /** Which rule gave the limits, and on how many points they rest. */
  rule: z.string(),
  n: z.int(),
  centre: StoredDecimal,
  warning: Limits.nullable(),
  action: Limits.nullable(),
  /** The limits lean with the drift line: they are given at `from`, and `slopePerDay` is added. */
  slopePerDay: StoredDecimal.nullable(),
});
export type TrendBaseline = z.infer<typeof TrendBaseline>;

/** Something that happened to the train or its reference. */
export const TrendEvent = z.strictObject({
  date: CalendarDate,
  kind: z.enum(["event", "micrometer", "certificate", "withdrawal"]),
  words: z.string(),
  /** True: a new baseline begins with it. */
  breaks: z.boolean(),
});
export type TrendEvent = z.infer<typeof TrendEvent>;

/** A quick check against the factor in force, µm/div. */
export const TrendCheck = z.strictObject({
  checkId: Id,
  date: CalendarDate,
  factor: StoredDecimal,
  shownFactor: z.string(),
  person: z.string(),
  passed: z.boolean(),
  /** Why it was withdrawn; null: it counts. */
  withdrawn: z.string().nullable(),
});
export type TrendCheck = z.infer<typeof TrendCheck>;

export const TrendDrift = z.strictObject({
  from: CalendarDate,
  to: CalendarDate,
  n: z.int(),
  /** Of the line, at `from` and at `to`, µm/div. */
  startValue: StoredDecimal,
  endValue: StoredDecimal,
  /** 95 % interval of the line at a few days, the last one beyond today when a limit is foretold; µm/div. */
  band: z.array(z.strictObject({ date: CalendarDate, lower: StoredDecimal, upper: StoredDecimal })),
  /** Change in a year of 365.25 days, %, with its 95 % interval. */
  percentPerYear: StoredDecimal,
  interval: Limits,
  p: z.number(),
  /** Mann–Kendall, two-sided; null where it was not asked. */
  rankP: z.number().nullable(),
  /** True: may be called a drift. */
  established: z.boolean(),
  /** What stands against calling it a drift. */
  caveats: z.array(z.string()),
  /** Which limit it runs towards, and when. */
  reaching: z
    .strictObject({
      kind: z.enum(["reached", "away", "uncertain", "day", "not-before"]),
      side: z.enum(["upper", "lower"]),
      /** The guarded limit, µm/div. */
      limit: StoredDecimal,
      date: CalendarDate.nullable(),
      earliest: CalendarDate.nullable(),
      latest: CalendarDate.nullable(),
    })
    .nullable(),
  words: z.string(),
});
export type TrendDrift = z.infer<typeof TrendDrift>;

/** A change of level between two calibrations. */
export const TrendStep = z.strictObject({
  after: CalendarDate,
  before: CalendarDate,
  /** % of the level before. */
  percent: StoredDecimal,
  /** The event at which it happened; null when none is recorded. */
  event: z.string().nullable(),
});
export type TrendStep = z.infer<typeof TrendStep>;

export const TREND_VERDICTS = [
  "steady",
  "small change",
  "drifting",
  "jumped",
  "too few points",
  "overdue",
  "not calibrated",
] as const;

/** How a train stands, in one word and one line. */
export const TrendVerdict = z.strictObject({ kind: z.enum(TREND_VERDICTS), why: z.string() });
export type TrendVerdict = z.infer<typeof TrendVerdict>;

/** A proposal for the time to the next calibration; never applied by itself. */
export const IntervalAdvice = z.strictObject({
  /** The usual interval so far, days; null below two calibrations. */
  usualDays: z.int().nullable(),
  methods: z.array(
    z.strictObject({
      name: z.string(),
      source: z.string(),
      days: z.int().nullable(),
      reason: z.string(),
    }),
  ),
  proposedDays: z.int().nullable(),
  proposedDue: CalendarDate.nullable(),
  reason: z.string(),
});
export type IntervalAdvice = z.infer<typeof IntervalAdvice>;

/** What a factor may change by before it is not acceptable. */
export const TrendTolerance = z.strictObject({
  percent: StoredDecimal,
  /** Who decided it, when and why; or where the proposal comes from. */
  origin: z.string(),
  /** How a factor is held against it (JCGM 106:2012). */
  rule: z.enum(DECISION_RULES),
});
export type TrendTolerance = z.infer<typeof TrendTolerance>;

/** The factor in force held against the tolerance about the first factor of its baseline. */
export const TrendConformity = z.strictObject({ conforms: z.boolean(), words: z.string() });
export type TrendConformity = z.infer<typeof TrendConformity>;

/** The history of one train's factor, oldest first. */
export const TrainTrend = z.strictObject({
  trainId: Id,
  nominalFactor: StoredDecimal,
  /** First factor of the baseline now running: what the tolerance is counted from. */
  reference: StoredDecimal.nullable(),
  tolerance: TrendTolerance,
  /** Null while there is no factor to hold against it. */
  conformity: TrendConformity.nullable(),
  points: z.array(TrendPoint),
  baselines: z.array(TrendBaseline),
  events: z.array(TrendEvent),
  checks: z.array(TrendCheck),
  steps: z.array(TrendStep),
  drift: TrendDrift.nullable(),
  verdict: TrendVerdict,
  advice: IntervalAdvice,
  dueOn: CalendarDate.nullable(),
  asOf: CalendarDate,
});
export type TrainTrend = z.infer<typeof TrainTrend>;

/** One of several series drawn side by side. */
export const SeriesTrend = z.strictObject({
  key: z.string(),
  title: z.string(),
  trainId: Id,
  verdict: TrendVerdict.nullable(),
  /** Oldest first; % from the mean of the series. */
  points: z.array(
    z.strictObject({
      calibrationId: Id,
      date: CalendarDate,
      percent: StoredDecimal,
      percentUncertainty: StoredDecimal,
      person: z.string(),
      micrometer: z.string(),
      shown: z.string(),
    }),
  ),
});
export type SeriesTrend = z.infer<typeof SeriesTrend>;

export const SIDE_BY_SIDE = ["microscope", "people", "micrometer"] as const;

export const SideBySide = z.strictObject({
  title: z.string(),
  series: z.array(SeriesTrend),
  /** What the series say together, one sentence each. */
  findings: z.array(
    z.strictObject({
      date: CalendarDate.nullable(),
      pointsTo: z.enum(["micrometer", "train", "microscope", "person", "nothing"]),
      words: z.string(),
    }),
  ),
});
export type SideBySide = z.infer<typeof SideBySide>;

/** The factor that was on the bench on a day, with the certificate behind it. */
export const FactorOnDay = z.strictObject({
  trainId: Id,
  train: z.string(),
  /** Every calibration that was in force at some time of that day, oldest first; empty: none was. */
  factors: z.array(
    z.strictObject({
      calibrationId: Id,
      from: Instant,
      until: Instant.nullable(),
      shownFactor: z.string(),
      shownUncertainty: z.string(),
      coverageFactor: StoredDecimal,
      person: z.string(),
      micrometer: z.string(),
      certificate: z.string(),
      laboratory: z.string(),
      certificateDueOn: CalendarDate,
      /** What a reader of that day should know: withdrawn since, overdue on that day. */
      cautions: z.array(z.string()),
    }),
  ),
});
export type FactorOnDay = z.infer<typeof FactorOnDay>;

export const NewTolerance = z.strictObject({
  /** Above this a tolerance allows anything; a train so far off is refused when it is calibrated. */
  percent: typedDecimal({ sign: "positive", most: 50 }),
  rule: z.enum(DECISION_RULES).default("guarded-acceptance"),
  reason: Reason,
});

/** How a chart is drawn, and which part of the history; null: the whole. */
export const TrendViewChoice = z.strictObject({
  unit: z.enum(TREND_UNITS),
  /** True: the axis of values reaches over the tolerance. */
  withTolerance: z.boolean(),
  days: z
    .strictObject({ from: CalendarDate, to: CalendarDate })
    .refine(({ from, to }) => from < to, { path: ["to"], error: "must be later than the first day" })
    .nullable(),
  /** How numbers and dates stand in the picture; left out: as in records. */
  notation: z.strictObject({ decimalSign: z.enum(DECIMAL_SIGNS), dateForm: z.enum(DATE_FORMS) }).optional(),
});
export type TrendViewChoice = z.infer<typeof TrendViewChoice>;

/** Characters of base64: with the rest of a request it stays below the loopback host's limit. */
export const LARGEST_CHART_PNG = 900_000;
/** A PNG of the chart for the workbook, drawn by the window. */
export const ChartPng = z.string().min(1).max(LARGEST_CHART_PNG).regex(BASE64, "is not base64");
