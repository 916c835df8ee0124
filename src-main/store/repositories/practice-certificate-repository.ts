import { PracticeCertificate, type PracticeWithdrawal } from "#core/contract/records/competence.ts";
import type { ScoredAttempt } from "#core/practice/competence.ts";
import { EXERCISES, type ExerciseName } from "#core/vocabulary/practice.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const CERTIFICATE = sql`SELECT c.id, c.number, c.attempt_id AS "attemptId", c.examiner_id AS "examinerId",
  c.at,
  c.words,
  c.attempt_sha256 AS "attemptSha256", c.reset_at AS "resetAt", c.reset_voucher AS "resetVoucher",
  iif(w.at IS NULL, NULL, json_object('examinerId', w.examiner_id, 'at', w.at, 'reason', w.reason,
    'resetAt', w.reset_at, 'resetVoucher', w.reset_voucher)) AS withdrawn
  FROM practice_certificate c LEFT JOIN practice_withdrawal w ON w.certificate_id = c.id`;

/** A signature whose PIN had been reset says so; others say nothing of it. */
const marked = ({ resetAt, resetVoucher, ...row }: Row): Row =>
  resetAt === null ? row : { ...row, pinReset: { at: resetAt, voucher: resetVoucher } };

function certificateOf({ withdrawn, ...row }: Row): PracticeCertificate {
  const taken = withdrawn === null ? {} : { withdrawn: marked(JSON.parse(String(withdrawn))) };
  return PracticeCertificate.parse({ ...marked(row), ...taken });
}

/** In the order they were signed. */
export function listPracticeCertificates(db: ReadableDb): PracticeCertificate[] {
  return sql`${CERTIFICATE} ORDER BY c.number`.all(db, certificateOf);
}

export function certificateOfAttempt(db: ReadableDb, attemptId: string): PracticeCertificate | null {
  return sql`${CERTIFICATE} WHERE c.attempt_id = ${attemptId}`.one(db, certificateOf);
}

/** The number that the next certificate of this bench bears. */
export function nextCertificateNumber(db: ReadableDb): number {
  return sql`SELECT coalesce(max(number), 0) + 1 AS next FROM practice_certificate`.number(db);
}

export function insertPracticeCertificate(db: WritableDb, certificate: PracticeCertificate): void {
  const { id, number, attemptId, examinerId, at, words, attemptSha256, pinReset } = certificate;
  insert(db, "practice_certificate", {
    id,
    number,
    attempt_id: attemptId,
    examiner_id: examinerId,
    at,
    words,
    attempt_sha256: attemptSha256,
    reset_at: pinReset?.at ?? null,
    reset_voucher: pinReset?.voucher ?? null,
  });
}

export function insertPracticeWithdrawal(
  db: WritableDb,
  certificateId: string,
  { examinerId, at, reason, pinReset }: PracticeWithdrawal,
): void {
  insert(db, "practice_withdrawal", {
    certificate_id: certificateId,
    examiner_id: examinerId,
    at,
    reason,
    reset_at: pinReset?.at ?? null,
    reset_voucher: pinReset?.voucher ?? null,
  });
}

export interface ScoredOf extends ScoredAttempt {
  readonly personId: string;
  readonly exercise: ExerciseName;
}

const scoredOf = columns({
  attemptId: "text",
  personId: "text",
  exercise: EXERCISES,
  endedAt: "text",
  signedAt: "text?",
  withdrawnAt: "text?",
});

/** Every attempt with a result, without its answers, newest first; of one person, or of all when null. */
export function scoredAttempts(db: ReadableDb, personId: string | null): ScoredOf[] {
  return sql`SELECT a.id AS "attemptId", a.person_id AS "personId", a.exercise, a.ended_at AS "endedAt",
      json_extract(a.result_json, '$.verdict') = 'met' AS met,
      json_extract(a.criteria_json, '$.months') AS months, c.at AS "signedAt",
      w.at AS "withdrawnAt"
    FROM practice_attempt a LEFT JOIN practice_certificate c ON c.attempt_id = a.id
      LEFT JOIN practice_withdrawal w ON w.certificate_id = c.id
    WHERE a.result_json IS NOT NULL AND (${personId} IS NULL OR a.person_id = ${personId})
    ORDER BY a.ended_at DESC, a.rowid DESC`.all(db, (row) => ({
    ...scoredOf(row),
    met: row.met === 1,
    months: Number(row.months),
  }));
}
