import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { columns } from "#main/store/columns.ts";
import { driverOf, immediate } from "#main/store/connection.ts";
import { firstText, insert, joined, named, sql } from "#main/store/sql.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { tempFolder } from "../../support/temp-bench.ts";

describe("a statement", () => {
  const folder = tempFolder();
  let bench: Awaited<ReturnType<typeof openBench>>;
  beforeAll(async () => {
    bench = await openBench({ paths: folder.paths, clock: fixedClock(), host: "test" });
    driverOf(bench.db).exec("CREATE TABLE thing (id TEXT PRIMARY KEY, n INTEGER NOT NULL, note TEXT) STRICT");
  });
  afterAll(() => {
    bench.close();
    folder.remove();
  });
  const put = (row: Parameters<typeof insert>[2], again?: Parameters<typeof insert>[3]): void =>
    immediate(bench.db, (db) => insert(db, "thing", row, again));
  const all = (): unknown => sql`SELECT id, n, note FROM thing ORDER BY id`.all(bench.db);

  it("binds what is typed, and takes parts with their values in order", () => {
    const typed = "'; DROP TABLE thing; --";
    const where = joined([sql`id = ${typed}`, sql`n IN (${1}, ${2})`], " OR ");
    const query = sql`SELECT ${named("id")} FROM thing WHERE ${where} LIMIT ${3}`;
    expect(query.text).toBe('SELECT "id" FROM thing WHERE id = ? OR n IN (?, ?) LIMIT ?');
    expect(query.bound).toEqual([typed, 1, 2, 3]);
    expect(query.all(bench.db)).toEqual([]);
    expect(query.one(bench.db)).toBeNull();
    expect(query.exists(bench.db)).toBe(false);
  });

  it("adds a row, sets it as given when it is there, leaves it, or throws", () => {
    put({ id: "a", n: sql`(SELECT 40 + ${2})`, note: "first" });
    expect(() => put({ id: "a", n: 1, note: null })).toThrow("UNIQUE");
    put({ id: "a", n: 7, note: null }, "once");
    expect(all()).toEqual([{ id: "a", n: 42, note: "first" }]);
    put({ id: "a", n: 8, note: null }, ["id"]);
    expect(all()).toEqual([{ id: "a", n: 8, note: null }]);
    expect(sql`SELECT n FROM thing`.number(bench.db)).toBe(8);
    expect(sql`SELECT id FROM thing`.all(bench.db, firstText)).toEqual(["a"]);
  });

  it("gives no row on for what it is not", () => {
    const query = sql`SELECT 'a' AS id, 1 AS n, NULL AS note`;
    const right = columns({ id: ["a", "b"], n: "number", note: "text?" });
    expect(query.one(bench.db, right)).toEqual({ id: "a", n: 1, note: null });
    expect(() => query.one(bench.db, columns({ id: ["b"] }))).toThrow("id of a row");
    expect(() => query.one(bench.db, columns({ n: "text" }))).toThrow("n of a row");
    expect(() => query.one(bench.db, columns({ note: "number" }))).toThrow("note of a row");
    expect(() => query.one(bench.db, columns({ gone: "text?" }))).toThrow("gone of a row");
  });
});
