import { z } from "zod";
import { EXERCISES } from "../../vocabulary/practice.ts";
import { CalendarDate, Id, Instant, Note, Reason } from "./primitives.ts";

/** The PIN it was given with had been reset, and its owner had not confirmed that; absent where nothing is to be said. */
const PinReset = z.strictObject({ at: Instant, voucher: Id }).optional();

/** An examiner takes a certificate back: from that instant on its attempt proves nothing, signed or not. */
export const PracticeWithdrawal = z.strictObject({
  /** Somebody else than the reader; the one who signed or another. */
  examinerId: Id,
  at: Instant,
  reason: Reason,
  pinReset: PinReset,
});
export type PracticeWithdrawal = z.infer<typeof PracticeWithdrawal>;

/** An examiner's signature under a met attempt; it stays readable when it is withdrawn. */
export const PracticeCertificate = z.strictObject({
  id: Id,
  /** Counted from 1 on each bench, as printed. */
  number: z.int().min(1),
  attemptId: Id,
  /** Somebody else than the reader. */
  examinerId: Id,
  at: Instant,
  words: Note,
  /** SHA-256 of the attempt as it was signed: exercise, seed, criteria, every answer and the result. */
  attemptSha256: z.string().regex(/^[0-9a-f]{64}$/),
  pinReset: PinReset,
  /** Absent while it stands. */
  withdrawn: PracticeWithdrawal.optional(),
});
export type PracticeCertificate = z.infer<typeof PracticeCertificate>;

export const COMPETENCE_STATES = [
  "proven",
  "awaits an examiner",
  "withdrawn",
  "lapsed",
  "not proven",
] as const;
export type CompetenceState = (typeof COMPETENCE_STATES)[number];

/** What one person has shown in one exercise. */
export const Competence = z.strictObject({
  personId: Id,
  exercise: z.enum(EXERCISES),
  state: z.enum(COMPETENCE_STATES),
  /** The last day of the proof, also of one that lapsed, was withdrawn or awaits an examiner; null: never proven. */
  until: CalendarDate.nullable(),
  /** The attempt that the state rests on; null: there is none with a result. */
  attemptId: Id.nullable(),
  certificate: PracticeCertificate.nullable(),
});
export type Competence = z.infer<typeof Competence>;

/**
 * Work on a sheet or count by somebody without a proof that the laboratory or its method asked for at the time. It blocks
 * nothing.
 */
export const UnprovenWork = z.strictObject({
  personId: Id,
  /** What was not proven. */
  exercises: z.array(z.enum(EXERCISES)).min(1),
  /** The first and the last day of it. */
  from: CalendarDate,
  to: CalendarDate,
});
export type UnprovenWork = z.infer<typeof UnprovenWork>;
