import type { BenchOverview } from "#core/contract/records/bench.ts";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";

/** How much there is on the bench. Rows are summed from the sheets' own counts, not scanned. */
export function benchCounts(db: ReadableDb): BenchOverview["counts"] {
  const row = sql`SELECT (SELECT count(*) FROM person) AS people,
    (SELECT count(*) FROM stage_micrometer) AS "stageMicrometers",
    (SELECT count(*) FROM certificate) AS certificates,
    (SELECT count(DISTINCT family_id) FROM method) AS methods,
    (SELECT count(*) FROM sheet) AS sheets,
    (SELECT coalesce(sum(row_count), 0) FROM sheet) AS rows`.one(db);
  return {
    people: Number(row?.people),
    stageMicrometers: Number(row?.stageMicrometers),
    certificates: Number(row?.certificates),
    methods: Number(row?.methods),
    sheets: Number(row?.sheets),
    rows: Number(row?.rows),
  };
}
