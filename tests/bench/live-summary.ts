import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { RunningSummary } from "#core/statistics/running-summary.ts";
import { summarise } from "#core/statistics/summary.ts";
import { bestOf, printTable, threeFigures } from "./print-table.ts";

const CORRECTIONS = 500;

/** Sizes with all their digits, made by a fixed rule. */
function sizesOf(count: number): Decimal[] {
  const factor = decimal("2.500744506845901").div(7);
  return Array.from({ length: count }, (_, row) => factor.times(((row * 7919) % 100_003) + 1));
}

/**
 * What the live panel costs per row: correcting one value and asking for the summary again, against working the sample
 * out from scratch. The ratio to 100 rows shows how it grows.
 */
export function benchLiveSummary(): void {
  let first = 0;
  const rows = [100, 10_000, 100_000].map((count) => {
    const sizes = sizesOf(count);
    const running = new RunningSummary();
    for (const size of sizes) running.add(size);
    const work = bestOf(3, () => {
      for (let at = 0; at < CORRECTIONS; at += 1) {
        const before = sizes[(at * 31) % count] ?? decimal(1);
        running.replace(before, before.plus(1));
        running.summary();
        running.replace(before.plus(1), before);
      }
    });
    const live = work / CORRECTIONS;
    const batch = bestOf(2, () => summarise(sizes));
    if (first === 0) first = live;
    return [
      `${count.toLocaleString("en-GB")} rows`,
      threeFigures(live * 1000),
      `${threeFigures(live / first)} ×`,
      threeFigures(batch * 1000),
      `${threeFigures(batch / live)} ×`,
    ];
  });
  printTable(
    ["two corrections and a summary", "µs", "to 100 rows", "from scratch, µs", "from scratch/live"],
    rows,
  );
}
