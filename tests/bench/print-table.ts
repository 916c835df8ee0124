/** Prints rows as aligned columns under headings; numbers to the right. */
export function printTable(headings: readonly string[], rows: readonly (readonly string[])[]): void {
  const all = [headings, ...rows];
  const widths = headings.map((_, column) => Math.max(...all.map((row) => (row[column] ?? "").length)));
  for (const row of all) {
    const cells = row.map((cell, column) => {
      const width = widths[column] ?? 0;
      return column === 0 ? cell.padEnd(width) : cell.padStart(width);
    });
    console.log(cells.join("  "));
  }
}

/** A count per second or a time with three figures. */
export function threeFigures(value: number): string {
  return Number(value.toPrecision(3)).toLocaleString("en-GB", { maximumSignificantDigits: 3 });
}

/** The best of a few runs, ms: the machine's other work only ever makes a run longer. */
export function bestOf(runs: number, work: () => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    work();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}
