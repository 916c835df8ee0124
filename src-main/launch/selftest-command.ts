import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { runSelftest } from "#core/selftest/run-selftest.ts";
import { selftestTable } from "./selftest-table.ts";

/**
 * Runs the cases, writes the table and gives the exit code: 0 when every case agrees, 1 on any disagreement and when
 * there was nothing to check.
 */
export function selftestCommand(cases: readonly ReferenceCase[], write: (text: string) => void): 0 | 1 {
  const report = runSelftest(cases);
  write(`${selftestTable(report)}\n`);
  return report.disagreeing === 0 && report.rows.length > 0 ? 0 : 1;
}
