import { createHash } from "node:crypto";
import { each, one, type ReadableDb } from "../connection.ts";

const ATTEMPT = `SELECT id, exercise, version, seed, person_id, criteria_json, begun_at, result_json, ended_at
  FROM practice_attempt WHERE id = ?`;
const ANSWERS = "SELECT ordinal, typed_json, at FROM practice_answer WHERE attempt_id = ? ORDER BY ordinal";

/** SHA-256 over everything of an attempt that a signature stands for: JSON arrays of the columns above, a line each. */
export function attemptSha256(db: ReadableDb, attemptId: string): string {
  const hash = createHash("sha256");
  const add = (row: object): void => {
    hash.update(`${JSON.stringify(Object.values(row))}\n`, "utf8");
  };
  add(one(db, ATTEMPT, attemptId) ?? {});
  for (const row of each(db, ANSWERS, attemptId)) add(row);
  return hash.digest("hex");
}
