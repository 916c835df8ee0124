import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { playwrightAgain, playwrightTotals, totalsLine, vitestTotals } from "../../totals.ts";

const folder = mkdtempSync(join(tmpdir(), "linefall-totals-"));
afterAll(() => rmSync(folder, { recursive: true }));

function report(value: unknown): string {
  const file = join(folder, "report.json");
  writeFileSync(file, JSON.stringify(value));
  return file;
}

describe("the totals of a test run", () => {
  const counts = { numPassedTests: 3, numFailedTests: 1, numPendingTests: 1, numTodoTests: 1 };
  const failed = { status: "failed", assertionResults: [{ status: "failed" }] };
  const passed = { status: "passed", assertionResults: [{ status: "passed" }] };

  it("are the runner's own", () => {
    expect(vitestTotals(report({ ...counts, testResults: [failed, passed] }))).toEqual({
      passed: 3,
      failed: 1,
      skipped: 2,
    });
    const stats = { expected: 5, unexpected: 1, flaky: 0, skipped: 2 };
    expect(playwrightTotals(report({ stats, errors: [{}] }))).toEqual({ passed: 5, failed: 1, skipped: 2 });
  });

  it("count a file that could not be loaded, and an error outside", () => {
    const broken = { status: "failed", assertionResults: [] };
    expect(vitestTotals(report({ ...counts, numFailedTests: 0, testResults: [broken] })).failed).toBe(1);
    const stats = { expected: 5, unexpected: 0, flaky: 0, skipped: 0 };
    expect(playwrightTotals(report({ stats, errors: [{}] })).failed).toBe(1);
  });

  it("name a test that passed only when repeated, and fail one that failed twice", () => {
    const stats = { expected: 5, unexpected: 1, flaky: 1, skipped: 0 };
    const spec = (title: string, status: string) => ({
      ...{ title, file: "count.spec.ts", line: 3 },
      tests: [{ status }],
    });
    const specs = [spec("a key", "flaky"), spec("a press", "unexpected"), spec("a sum", "expected")];
    const file = report({ stats, errors: [], suites: [{ suites: [{ specs }] }] });
    expect(playwrightTotals(file)).toEqual({ passed: 6, failed: 1, skipped: 0 });
    expect(playwrightAgain(file)).toEqual(["count.spec.ts:3 a key"]);
  });

  it("are nothing where there is no report", () => {
    expect(vitestTotals(join(folder, "missing.json"))).toEqual({ passed: 0, failed: 0, skipped: 0 });
  });

  it("end the run in one form", () => {
    expect(totalsLine({ passed: 12, failed: 0, skipped: 0 })).toBe("12 passed, 0 failed");
    expect(totalsLine({ passed: 1, failed: 2, skipped: 3 })).toBe("1 passed, 2 failed, 3 skipped");
  });
});
