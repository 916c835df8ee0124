import { z } from "zod";
import { EXERCISES, PRACTICE_FIGURES } from "../../vocabulary/practice.ts";
import { Id, Instant, StoredDecimal, TypedNumber } from "./primitives.ts";

/** A criterion that was not asked for from the beginning, at its proposal where nothing is stored of it. */
const proposed = (value: string) => StoredDecimal.default(value as z.infer<typeof StoredDecimal>);

/** What a laboratory asks of a reader. */
export const PracticeCriteria = z.strictObject({
  /** Largest mean error of readings, either way, divisions. */
  mostBias: StoredDecimal,
  /** Largest standard deviation of single readings, divisions. */
  mostScatter: StoredDecimal,
  /** Largest error of a factor, either way, per cent. */
  mostFactorError: StoredDecimal,
  /** Least part of the scale that settings span in the mean, divisions. */
  leastSpan: StoredDecimal,
  /** Least part of right answers, per cent; attempts of before it was asked for go by the proposal. */
  leastRight: proposed("80"),
  /** Largest mean error of sizes, either way, per cent. */
  mostSizeError: proposed("2"),
  /** Largest standard deviation of the errors of sizes, per cent. */
  mostSizeScatter: proposed("4"),
  /** Largest part of rows with another objective than entered, per cent. */
  mostSlips: proposed("5"),
  /** Largest error of the number counted, either way, per cent. */
  mostCountError: proposed("5"),
  /** Months for which a met exercise is taken as proven. */
  months: z.int().min(1).max(120),
});
export type PracticeCriteria = z.infer<typeof PracticeCriteria>;

/** Proposals, no standard's: common practice, no source. A tenth of a division is what most readers estimate to. */
export const PROPOSED_PRACTICE_CRITERIA: PracticeCriteria = {
  mostBias: "0.05" as z.infer<typeof StoredDecimal>,
  mostScatter: "0.1" as z.infer<typeof StoredDecimal>,
  mostFactorError: "0.5" as z.infer<typeof StoredDecimal>,
  leastSpan: "60" as z.infer<typeof StoredDecimal>,
  leastRight: "80" as z.infer<typeof StoredDecimal>,
  mostSizeError: "2" as z.infer<typeof StoredDecimal>,
  mostSizeScatter: "4" as z.infer<typeof StoredDecimal>,
  mostSlips: "5" as z.infer<typeof StoredDecimal>,
  mostCountError: "5" as z.infer<typeof StoredDecimal>,
  months: 12,
};

/** One answer as typed, by the name of its field. */
export const PracticeAnswer = z.strictObject({
  ordinal: z.int().min(1),
  typed: z.record(z.string().max(30), TypedNumber),
  at: Instant,
});
export type PracticeAnswer = z.infer<typeof PracticeAnswer>;

export const PracticeFigure = z.strictObject({
  name: z.enum(PRACTICE_FIGURES),
  value: StoredDecimal,
  /** Interval at 95 %; null where there is none. */
  lower: StoredDecimal.nullable(),
  upper: StoredDecimal.nullable(),
  /** The criterion it is held to; null: shown only. */
  limit: StoredDecimal.nullable(),
  /** Whether the criterion is shown to be exceeded. */
  exceeded: z.boolean().nullable(),
});
export type PracticeFigure = z.infer<typeof PracticeFigure>;

/** What an attempt amounts to: computed from seed, answers, times and criteria alone. */
export const PracticeResult = z.strictObject({
  verdict: z.enum(["met", "not met"]),
  figures: z.array(PracticeFigure),
  /** How often each final digit 0 … 9 was read; null where no single readings are scored. */
  digits: z.array(z.int()).length(10).nullable(),
  /** Truth and error of each answer, in its order: divisions; of settings µm for a division, of sizes µm, and per cent. */
  readings: z.array(z.strictObject({ truth: StoredDecimal, error: StoredDecimal })),
});
export type PracticeResult = z.infer<typeof PracticeResult>;

/** One run of an exercise by one person. */
export const PracticeAttempt = z.strictObject({
  id: Id,
  exercise: z.enum(EXERCISES),
  version: z.int(),
  seed: z.int(),
  personId: Id,
  criteria: PracticeCriteria,
  begunAt: Instant,
  answers: z.array(PracticeAnswer),
  /** Null while it is under way, and of one that was given up. */
  result: PracticeResult.nullable(),
  endedAt: Instant.nullable(),
});
export type PracticeAttempt = z.infer<typeof PracticeAttempt>;
