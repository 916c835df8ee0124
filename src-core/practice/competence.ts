import type { CompetenceState } from "../contract/records/competence.ts";
import { monthsAfter } from "../trends/civil-day.ts";

/** What is left of a scored attempt once it is only asked whether it proves something. */
export interface ScoredAttempt {
  readonly attemptId: string;
  readonly met: boolean;
  /** An instant. */
  readonly endedAt: string;
  /** For how many months a met attempt is taken as proof, by the criteria it was begun under. */
  readonly months: number;
  /** When an examiner signed it, an instant; null: nobody has. */
  readonly signedAt: string | null;
  /** When an examiner took that signature back, an instant; null: it stands, or there is none. */
  readonly withdrawnAt: string | null;
}

/** A met attempt as proof, from an instant to the end of a day, or to the instant at which it was withdrawn. */
export interface Proof {
  readonly attemptId: string;
  readonly from: string;
  readonly until: string;
  readonly withdrawnAt: string | null;
}

/** The last day for which an attempt is taken as proof; null: it proves nothing. */
export function lastDayOf({
  met,
  endedAt,
  months,
}: Pick<ScoredAttempt, "met" | "endedAt" | "months">): string | null {
  return met ? monthsAfter(endedAt.slice(0, 10), months) : null;
}

/**
 * What an attempt proves. A later attempt that does not meet the criteria takes nothing away: who practises is not to
 * be punished for it, and the results stand beside each other. An examiner who withdraws a certificate does: from then
 * on the attempt is no proof, also where none has to be signed.
 * @param bySignature whether the laboratory takes it as proof only once an examiner has signed it
 */
export function proofOf(attempt: ScoredAttempt, bySignature: boolean): Proof | null {
  const until = lastDayOf(attempt);
  const from = bySignature ? attempt.signedAt : attempt.endedAt;
  if (until === null || from === null) return null;
  return { attemptId: attempt.attemptId, from, until, withdrawnAt: attempt.withdrawnAt };
}

/** Whether something was proven at an instant: by what was known then, not by what was shown later. */
export function isProvenAt(proofs: readonly Proof[], instant: string): boolean {
  return proofs.some(
    ({ from, until, withdrawnAt }) =>
      from <= instant && instant.slice(0, 10) <= until && (withdrawnAt === null || instant < withdrawnAt),
  );
}

/** Where a person stands in an exercise. */
export interface CompetenceOnDay {
  readonly state: CompetenceState;
  readonly until: string | null;
  readonly attemptId: string | null;
}

const longest = (proofs: readonly (Proof | null)[]): Proof | null =>
  proofs.reduce<Proof | null>((best, one) => (one && (!best || one.until > best.until) ? one : best), null);

/**
 * Where a person stands in one exercise on a day.
 * @param attempts all with a result, newest first
 */
export function competenceOn(
  today: string,
  attempts: readonly ScoredAttempt[],
  bySignature: boolean,
): CompetenceOnDay {
  const standing = attempts.filter(({ withdrawnAt }) => withdrawnAt === null);
  const proof = longest(standing.map((one) => proofOf(one, bySignature)));
  if (proof && proof.until >= today) return { state: "proven", ...rest(proof) };
  const unsigned = longest(standing.map((one) => proofOf(one, false)));
  if (bySignature && unsigned && unsigned.until >= today) {
    return { state: "awaits an examiner", ...rest(unsigned) };
  }
  const withdrawn = longest(
    attempts.filter((one) => !standing.includes(one)).map((one) => proofOf(one, false)),
  );
  if (withdrawn && withdrawn.until >= today) return { state: "withdrawn", ...rest(withdrawn) };
  if (proof) return { state: "lapsed", ...rest(proof) };
  return { state: "not proven", until: null, attemptId: attempts[0]?.attemptId ?? null };
}

const rest = ({ attemptId, until }: Proof): Omit<CompetenceOnDay, "state"> => ({ attemptId, until });
