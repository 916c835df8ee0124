import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { all, one, plannedOnce } from "#main/store/connection.ts";
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
      "SELECT a.name, b.type FROM pragma_table_list a JOIN sqlite_schema b ON b.name = a.name WHERE b.name = ?",
    ],
    [
      "ordered",
      "SELECT name, type FROM sqlite_schema WHERE name = ? AND type = 'table' ORDER BY rowid DESC LIMIT 1",
    ],
  ])("that is %s is planned once, however often it is executed", (_, sql) => {
    const plans = plansOf(() => {
      for (let times = 0; times < 10; times += 1) expect(all(bench.db, sql, "person")).toHaveLength(1);
    });
    expect(plans).toBe(1);
  });

  it("compares a text with a text and a number with a number, as without the plus", () => {
    expect(
      one(bench.db, "SELECT '007' = ? AS same, 7 = ? AS number, typeof(+'007') AS kind", "007", 7),
    ).toEqual({
      same: 1,
      number: 1,
      kind: "text",
    });
  });

  it("is changed where a value is compared, and nowhere else", () => {
    expect(
      plannedOnce("UPDATE t SET a = ? WHERE b >= :b AND c BETWEEN ? AND ? AND d IN (?, ?) LIMIT ?"),
    ).toBe("UPDATE t SET a = +? WHERE b >= +:b AND c BETWEEN +? AND +? AND d IN (?, ?) LIMIT ?");
  });
});
