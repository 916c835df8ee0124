import { countsByGrade, type SelftestReport, type SelftestRow } from "#core/selftest/run-selftest.ts";

/** Longest text of a column; a longer one is cut with an ellipsis, the middle of a number and the standing never. */
const WIDEST = { id: 42, source: 58, expected: 26, got: 26 } as const;
const HEADINGS = ["case", "standing", "source", "expected", "got", "agrees"] as const;

function cut(text: string, width: number): string {
  const line = text.replaceAll(/\s+/g, " ");
  return line.length <= width ? line : `${line.slice(0, width - 1)}…`;
}

function cellsOf(row: SelftestRow): readonly string[] {
  const got = row.error === undefined ? row.got : `${row.got} ${row.error}`.trim();
  return [
    cut(row.id, WIDEST.id),
    row.standing,
    cut(row.source, WIDEST.source),
    cut(row.expected, WIDEST.expected),
    cut(got, WIDEST.got),
    row.agrees ? "yes" : "NO",
  ];
}

function disagreement(row: SelftestRow): string {
  const got = row.error === undefined ? row.got : `no value: ${row.error}`;
  return [
    `${row.id}: ${row.what}`,
    `  source    ${row.source} [${row.standing}]`,
    `  expected  ${row.expected}`,
    `  got       ${got}`,
  ].join("\n");
}

/** The report as aligned columns, every disagreement once more in full, how many cases have each standing, and the verdicts. */
export function selftestTable(report: SelftestReport): string {
  const table = [HEADINGS, ...report.rows.map(cellsOf)];
  const widths = HEADINGS.map((_, column) => Math.max(...table.map((cells) => (cells[column] ?? "").length)));
  const lines = table.map((cells) =>
    cells
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join("  ")
      .trimEnd(),
  );
  const wrong = report.rows.filter((row) => !row.agrees).map(disagreement);
  const counts = `${report.rows.length} cases: ${report.agreeing} agree, ${report.disagreeing} disagree`;
  const grades = countsByGrade(report.rows).map(([standing, n]) => `${standing} ${n}`);
  return [...lines, "", ...wrong.flatMap((text) => [text, ""]), grades.join(", "), counts].join("\n");
}
