import { createHash } from "node:crypto";
import { canonicalJson } from "../canonical-json.ts";
import type { ReadableDb, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

export interface DoneRequest {
  readonly act: string;
  readonly digest: string;
  /** The record that the act was about: it answers a repetition. */
  readonly subjectId: string;
}

/** Tells one input from another, so that an id used twice for different acts is noticed. */
export function digestOf(input: unknown): string {
  return createHash("sha256").update(canonicalJson(input), "utf8").digest("hex").slice(0, 32);
}

/** What a request with this id did; null when it has not been done. */
export function findRequest(db: ReadableDb, requestId: string): DoneRequest | null {
  return sql`SELECT act, digest, subject_id AS "subjectId" FROM request
    WHERE request_id = ${requestId}`.one(db, (row) => ({
    act: String(row.act),
    digest: String(row.digest),
    subjectId: String(row.subjectId),
  }));
}

export function rememberRequest(db: WritableDb, requestId: string, done: DoneRequest, at: string): void {
  insert(db, "request", {
    request_id: requestId,
    act: done.act,
    digest: done.digest,
    subject_id: done.subjectId,
    at,
  });
}

const KEPT_DAYS = 30;

/** A window repeats a request within seconds; a month later it is no longer needed. It is no record of the bench. */
export function forgetOldRequests(db: WritableDb, now: string): void {
  const limit = new Date(Date.parse(now) - KEPT_DAYS * 86_400_000).toISOString();
  sql`DELETE FROM request WHERE at < ${limit}`.run(db);
}
