import { z } from "zod";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { call, Nothing } from "../call.ts";
import { Competence, PracticeCertificate, UnprovenWork } from "../records/competence.ts";
import { ExportProgress } from "../records/exchange.ts";
import { PracticeAttempt, PracticeCriteria } from "../records/practice.ts";
import { MOST_IN_CLASS, NewClass, PracticeClass, SlideReading } from "../records/practice-class.ts";
import { Id, Name, Note, Reason, RequestId, TypedNumber } from "../records/primitives.ts";
import { SIGNING_ERRORS, TypedPin } from "../records/sign-off.ts";
import { numberAsTyped, typedDecimal } from "../records/typed-number.ts";

/** Seeds are short enough to be read out to a class. */
export const MOST_SEED = 999_999;

// Wider criteria would ask nothing.
const Divisions = typedDecimal({ sign: "positive", most: 5 });
const PerCent = typedDecimal({ sign: "positive", most: 20 });
/** Of a whole, per cent. */
const Part = typedDecimal({ sign: "positive", most: 100 });

/** Divisions; no reticle's scale is longer. */
const OnScale = numberAsTyped({ least: 0, most: 1000 });

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
  /** Examiners' signatures under attempts, in the order they were given; at most one under each. */
  "practice.certificates": call({
    kind: "read",
    reads: ["practice"],
    input: Nothing,
    output: z.array(PracticeCertificate),
    errors: [],
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
  /** An examiner, who is not the reader and proves it with the PIN, takes a certificate back. It stays readable. */
  "practice.withdraw": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      attemptId: Id,
      examinerId: Id,
      pin: TypedPin,
      reason: Reason,
    }),
    output: PracticeCertificate,
    errors: [
      ...SIGNING_ERRORS,
      "attempt.unknown",
      "certificate.missing",
      "certificate.withdrawn",
      "certificate.own",
    ],
  }),
  /** Work on a sheet or count by somebody without a proof that the laboratory or the method asked for at the time. */
  "practice.unproven": call({
    kind: "read",
    reads: ["practice", "laboratory", "sheets", "rows", "counts", "presses"],
    input: z.strictObject({ work: z.enum(["sheet", "count"]), id: Id }),
    output: z.array(UnprovenWork),
    errors: ["sheet.unknown", "count.unknown"],
  }),
  /**
   * What the laboratory or the method of a sheet or count asks for and the person at the bench has not proven now.
   * Entering changes nothing of it.
   */
  "practice.missing": call({
    kind: "read",
    reads: ["practice", "laboratory", "present person"],
    input: z.strictObject({ work: z.enum(["sheet", "count"]), id: Id }),
    output: z.array(z.enum(EXERCISES)),
    errors: ["sheet.unknown", "count.unknown"],
  }),
  /** Newest first. */
  "practice.classes": call({
    kind: "read",
    reads: ["practice"],
    input: Nothing,
    output: z.array(PracticeClass),
    errors: [],
  }),
  /** A class from a list of names; whoever is not registered yet is. */
  "practice.makeClass": call({
    kind: "write",
    changes: ["practice", "people", "trail"],
    input: NewClass.extend({
      requestId: RequestId,
      names: z
        .array(Name)
        .min(1, "needs at least one name")
        .max(MOST_IN_CLASS, `has too many names: at most ${MOST_IN_CLASS}`),
    }),
    output: PracticeClass,
    errors: ["person.missing"],
  }),
  /** What a class has read of real material, in the order it was taken. */
  "practice.slideReadings": call({
    kind: "read",
    reads: ["practice"],
    input: z.strictObject({ classId: Id }),
    output: z.array(SlideReading),
    errors: ["class.unknown"],
  }),
  /** What a class has shown as a workbook; null when the person cancels the choice of a place. */
  "practice.classWorkbook": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ classId: Id }),
    output: ExportProgress.nullable(),
    errors: ["class.unknown", "file.unwritable"],
  }),
  /** The next reading of the person at the bench; nothing of it is put in force. */
  "practice.readSlide": call({
    kind: "write",
    changes: ["practice", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      classId: Id,
      interval: z.int().min(1),
      repeat: z.int().min(1),
      left: OnScale,
      right: OnScale,
    }),
    output: z.strictObject({ classId: Id, readings: z.array(SlideReading) }),
    errors: ["person.missing", "class.unknown", "class.notMember", "reading.order"],
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
      mostBias: Divisions,
      mostScatter: Divisions,
      mostFactorError: PerCent,
      leastSpan: typedDecimal({ sign: "positive", most: 100 }),
      leastRight: Part,
      mostSizeError: PerCent,
      mostSizeScatter: PerCent,
      mostSlips: Part,
      mostCountError: Part,
      months: z.int().min(1).max(120),
      reason: Reason,
    }),
    output: PracticeCriteria,
    errors: ["person.missing"],
  }),
} as const;
