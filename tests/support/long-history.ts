import { randomIds } from "#main/ports/ids.ts";
import { buildScene, calibrateTrain } from "./bench-scenes.ts";
import { tamper, withRawDatabase } from "./raw-database.ts";
import { type TempBench, tempBench } from "./temp-bench.ts";

/** Copies the one calibration of a bench into a long history: daily, with a slow wave and a scatter by a fixed rule. */
function lengthenHistory(databaseFile: string, count: number): void {
  const columns = withRawDatabase(databaseFile, (database) =>
    (database.prepare("SELECT name FROM pragma_table_info('calibration')").pluck().all() as string[]).filter(
      (name) => name !== "rowid",
    ),
  );
  const replaced: Readonly<Record<string, string>> = {
    id: "'copy-' || n",
    state: "'superseded'",
    started_at: "at",
    in_force_at: "at",
    ended_at: "until",
    ended_by: "in_force_by",
    end_reason: "'superseded'",
    result_json: `json_set(result_json, '$.factor', printf('%.6f',
        json_extract(result_json, '$.factor') * (1 + 0.001 * sin(n / 60.0) + ((n * 7919) % 101 - 50) / 100000.0)))`,
  };
  const values = columns.map((name) => replaced[name] ?? name);
  tamper(
    databaseFile,
    `WITH RECURSIVE copies (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM copies WHERE n < ${count - 1}),
       dated AS (SELECT n, strftime('%Y-%m-%dT%H:%M:%fZ', (SELECT in_force_at FROM calibration), '-' || n || ' days') AS at,
         strftime('%Y-%m-%dT%H:%M:%fZ', (SELECT in_force_at FROM calibration), '-' || (n - 1) || ' days') AS until FROM copies)
     INSERT INTO calibration (${columns.join(", ")})
     SELECT ${values.join(", ")} FROM calibration, dated WHERE calibration.state = 'in force'`,
  );
}

/** A bench, closed, with one train of so many calibrations. */
export async function longHistory(count: number): Promise<TempBench> {
  const bench = await tempBench({ ids: randomIds });
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
  await bench.program.close();
  if (count > 1) lengthenHistory(bench.paths.databaseFile, count);
  return bench;
}
