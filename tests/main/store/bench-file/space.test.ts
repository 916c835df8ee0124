import { mkdirSync, statSync } from "node:fs";
import { expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import type { Migration } from "#main/store/migrations/migration.ts";
import { fixedClock } from "../../../support/fixed-clock.ts";
import { withRawDatabase } from "../../../support/raw-database.ts";
import { tempFolder } from "../../../support/temp-bench.ts";

const first: Migration = {
  version: 10,
  name: "records as they were kept at first",
  sql: `CREATE TABLE person (id TEXT, words TEXT);
    WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 5000)
    INSERT INTO person SELECT i, hex(randomblob(100)) FROM n;`,
};
const shorter: Migration = {
  version: 20,
  name: "without the words",
  sql: `CREATE TABLE shorter AS SELECT id FROM person;
    DROP TABLE person;
    ALTER TABLE shorter RENAME TO person;`,
};
const renamed: Migration = {
  version: 20,
  name: "another name",
  sql: "ALTER TABLE person RENAME COLUMN words TO text;",
};

async function sizesAround(second: Migration): Promise<readonly [before: number, after: number]> {
  const { paths, remove } = tempFolder();
  mkdirSync(paths.dataFolder, { recursive: true });
  const opened = async (migrations: readonly Migration[]): Promise<number> => {
    (await openBench({ paths, clock: fixedClock(), host: "test", migrations })).close();
    return statSync(paths.databaseFile).size;
  };
  const sizes = [await opened([first]), await opened([first, second])] as const;
  const rows = withRawDatabase(paths.databaseFile, (db) =>
    db.prepare("SELECT count(*) FROM person").pluck().get(),
  );
  expect(rows).toBe(5000);
  remove();
  return sizes;
}

it("a file that a change of its format left half empty gives the room back", async () => {
  const [before, after] = await sizesAround(shorter);
  expect(after).toBeLessThan(before / 2);
});

it("a file that is as full as before is left as it is", async () => {
  const [before, after] = await sizesAround(renamed);
  expect(after).toBe(before);
});
