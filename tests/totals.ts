import { readFileSync } from "node:fs";

export interface Totals {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

export const NO_TESTS: Totals = Object.freeze({ passed: 0, failed: 0, skipped: 0 });

/** What vitest's JSON report counts; a file that could not even be loaded counts as one failure. */
export function vitestTotals(reportFile: string): Totals {
  const report = read(reportFile) as {
    numPassedTests: number;
    numFailedTests: number;
    numPendingTests: number;
    numTodoTests: number;
    testResults: { status: string; assertionResults: { status: string }[] }[];
  } | null;
  if (report === null) return NO_TESTS;
  const broken = report.testResults.filter(
    (file) => file.status === "failed" && !file.assertionResults.some((test) => test.status === "failed"),
  );
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + broken.length,
    skipped: report.numPendingTests + report.numTodoTests,
  };
}

interface PlaywrightSuite {
  readonly specs?: readonly {
    title: string;
    file: string;
    line: number;
    tests: readonly { status: string }[];
  }[];
  readonly suites?: readonly PlaywrightSuite[];
}

interface PlaywrightReport {
  readonly stats: { expected: number; unexpected: number; flaky: number; skipped: number };
  readonly errors: readonly unknown[];
  readonly suites?: readonly PlaywrightSuite[];
}

/** What Playwright's JSON report counts; a test that passed only when repeated counts as passed, and `playwrightAgain` names it. */
export function playwrightTotals(reportFile: string): Totals {
  const report = read(reportFile) as PlaywrightReport | null;
  if (report === null) return NO_TESTS;
  const { expected, unexpected, flaky, skipped } = report.stats;
  const outside = unexpected + flaky === 0 ? report.errors.length : 0;
  return { passed: expected + flaky, failed: unexpected + outside, skipped };
}

/** Tests that passed only when they were repeated, as `file:line title`: a race in the test or in the program. */
export function playwrightAgain(reportFile: string): string[] {
  const report = read(reportFile) as PlaywrightReport | null;
  const within = ({ specs = [], suites = [] }: PlaywrightSuite): string[] => [
    ...specs
      .filter(({ tests }) => tests.some(({ status }) => status === "flaky"))
      .map(({ title, file, line }) => `${file}:${line} ${title}`),
    ...suites.flatMap(within),
  ];
  return (report?.suites ?? []).flatMap(within);
}

/** `12 passed, 0 failed`, and `, 1 skipped` where there are any. */
export function totalsLine({ passed, failed, skipped }: Totals): string {
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`;
}

function read(reportFile: string): unknown {
  try {
    return JSON.parse(readFileSync(reportFile, "utf8"));
  } catch {
    return null;
  }
}
