import { createHash } from "node:crypto";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";

/** SHA-256 over everything of an attempt that a signature stands for: JSON arrays of the columns below, a line each. */
export function attemptSha256(db: ReadableDb, attemptId: string): string {
  const hash = createHash("sha256");
  const add = (row: object): void => {
    hash.update(`${JSON.stringify(Object.values(row))}\n`, "utf8");
  };
  add(
    sql`SELECT id, exercise, version, seed, person_id, criteria_json, begun_at, result_json, ended_at
      FROM practice_attempt WHERE id = ${attemptId}`.one(db) ?? {},
  );
  for (const row of sql`SELECT ordinal, typed_json, at FROM practice_answer
    WHERE attempt_id = ${attemptId} ORDER BY ordinal`.each(db))
    add(row);
  return hash.digest("hex");
}
