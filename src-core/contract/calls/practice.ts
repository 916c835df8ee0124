import { z } from "zod";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { call, Nothing } from "../call.ts";
import { Competence, PracticeCertificate, UnprovenWork } from "../records/competence.ts";
import { PracticeAttempt, PracticeCriteria } from "../records/practice.ts";
import { Id, Note, Reason, RequestId, TypedNumber } from "../records/primitives.ts";
import { SIGNING_ERRORS, TypedPin } from "../records/sign-off.ts";

/** Seeds are short enough to be read out to a class. */
export const MOST_SEED = 999_999;

export const practiceCalls = {
  /** Attempts of one person or of all, newest first. */
  "practice.list": call({
    kind: "read",
    reads: ["practice", "people"],
    input: z.strictObject({ personId: Id.nullable() }),
    output: z.array(PracticeAttempt),
    errors: [],
  }),
  "practice.get": call({
    kind: "read",
    reads: ["practice"],
    input: z.strictObject({ attemptId: Id }),
    output: PracticeAttempt,
    errors: ["attempt.unknown"],
  }),
  /**
   * Begins an attempt of the person at the bench; one that is under way is gone on with instead, unless another seed is
   * asked for.
   */
  "practice.begin": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      exercise: z.enum(EXERCISES),
      /** One that a class shares; null: a new one. */
      seed: z.int().min(1, "must be a whole number from 1 on").max(MOST_SEED, "is too large").nullable(),
    }),
    output: PracticeAttempt,
    errors: ["person.missing", "attempt.underWay"],
  }),
  /** The next answer; with the last one the attempt is scored. */
  "practice.answer": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      attemptId: Id,
      ordinal: z.int().min(1).max(1000),
      typed: z.record(z.string().max(30), TypedNumber),
    }),
    output: PracticeAttempt,
    errors: ["person.missing", "attempt.unknown", "attempt.ended", "attempt.another", "answer.order"],
  }),
  /** Ends an attempt without a result; its answers are kept. */
  "practice.giveUp": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({ requestId: RequestId, attemptId: Id }),
    output: PracticeAttempt,
    errors: ["person.missing", "attempt.unknown", "attempt.ended", "attempt.another"],
  }),
  /** Where everybody stands in every exercise today. */
  "practice.competence": call({
    kind: "read",
    reads: ["practice", "people", "laboratory"],
    input: Nothing,
    output: z.array(Competence),
    errors: [],
  }),
  /** The examiner's signature under an attempt; null: there is none. */
  "practice.certificate": call({
    kind: "read",
    reads: ["practice"],
    input: z.strictObject({ attemptId: Id }),
    output: PracticeCertificate.nullable(),
    errors: ["attempt.unknown"],
  }),
  /** An examiner, who is not the reader and proves it with the PIN, signs an attempt that met the criteria. */
  "practice.sign": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      attemptId: Id,
      examinerId: Id,
      pin: TypedPin,
      words: Note,
    }),
    output: PracticeCertificate,
    errors: [...SIGNING_ERRORS, "attempt.unknown", "attempt.not-met", "attempt.signed", "certificate.own"],
  }),
  /** Work on a sheet or count by somebody without a proof that the laboratory asked for at the time. */
  "practice.unproven": call({
    kind: "read",
    reads: ["practice", "laboratory", "sheets", "rows", "counts", "presses"],
    input: z.strictObject({ work: z.enum(["sheet", "count"]), id: Id }),
    output: z.array(UnprovenWork),
    errors: ["sheet.unknown", "count.unknown"],
  }),
  "practice.criteria": call({
    kind: "read",
    reads: ["practice"],
    input: z.strictObject({}),
    output: PracticeCriteria,
    errors: [],
  }),
  /** Criteria for attempts begun from now on. */
  "practice.setCriteria": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      mostBias: TypedNumber,
      mostScatter: TypedNumber,
      mostFactorError: TypedNumber,
      leastSpan: TypedNumber,
      leastRight: TypedNumber,
      months: z.int().min(1).max(120),
      reason: Reason,
    }),
    output: PracticeCriteria,
    errors: ["person.missing"],
  }),
} as const;
