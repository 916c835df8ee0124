import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { plannedOnce } from "#main/store/connection.ts";
import { sql } from "#main/store/sql.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { tempFolder } from "../../support/temp-bench.ts";

describe("a statement with bound values", () => {
  const folder = tempFolder();
  let bench: Awaited<ReturnType<typeof openBench>>;
  beforeAll(async () => {
    bench = await openBench({ paths: folder.paths, clock: fixedClock(), host: "test" });
  });
  afterAll(() => {
    bench.close();
    folder.remove();
  });

  /** The driver makes a maker of rows, a function, whenever SQLite has planned a statement anew. */
  function plansOf(act: () => void): number {
    const made = vi.spyOn(globalThis, "Function");
    try {
      act();
      return made.mock.calls.length;
    } finally {
      made.mockRestore();
    }
  }

  it.each([
    [
      "joined",
      sql`SELECT a.name, b.type FROM pragma_table_list a JOIN sqlite_schema b ON b.name = a.name WHERE b.name = ${"person"}`,
    ],
    [
      "ordered",
      sql`SELECT name, type FROM sqlite_schema WHERE name = ${"person"} AND type = 'table' ORDER BY rowid DESC LIMIT 1`,
    ],
  ])("that is %s is planned once, however often it is executed", (_, query) => {
    const plans = plansOf(() => {
      for (let times = 0; times < 10; times += 1) expect(query.all(bench.db)).toHaveLength(1);
    });
    expect(plans).toBe(1);
  });

  it("compares a text with a text and a number with a number, as without the plus", () => {
    expect(
      sql`SELECT '007' = ${"007"} AS same, 7 = ${7} AS number, typeof(+'007') AS kind`.one(bench.db),
    ).toEqual({
      same: 1,
      number: 1,
      kind: "text",
    });
  });

  it("is changed where a value is compared, and nowhere else", () => {
    expect(plannedOnce("UPDATE t SET a = ? WHERE b >= ? AND c BETWEEN ? AND ? AND d IN (?, ?) LIMIT ?")).toBe(
      "UPDATE t SET a = +? WHERE b >= +? AND c BETWEEN +? AND +? AND d IN (?, ?) LIMIT ?",
    );
  });
});
