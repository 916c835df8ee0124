import { printTable, threeFigures } from "../print-table.ts";

/** What was measured against what was promised. */
export interface Budget {
  readonly what: string;
  readonly measured: number;
  readonly unit: string;
  /** The largest that keeps the promise, or the smallest. */
  readonly most?: number;
  readonly least?: number;
}

const MET = "yes";
const MISSED = "NO";

function promised({ most, least, unit }: Budget): string {
  return most === undefined
    ? `at least ${threeFigures(least ?? 0)} ${unit}`
    : `at most ${threeFigures(most)} ${unit}`;
}

const isMet = ({ measured, most = Number.POSITIVE_INFINITY, least = 0 }: Budget): boolean =>
  measured <= most && measured >= least;

export function printBudgets(budgets: readonly Budget[]): void {
  printTable(
    ["promise", "measured", "promised", "kept"],
    budgets.map((one) => [
      one.what,
      `${threeFigures(one.measured)} ${one.unit}`,
      promised(one),
      isMet(one) ? MET : MISSED,
    ]),
  );
}

const BEAT_MS = 30_000;

/** Says every half minute that work is still going on, for whoever waits. */
export async function withBeat<T>(what: string, work: Promise<T>, more: () => string = () => ""): Promise<T> {
  const start = performance.now();
  const beat = setInterval(() => {
    console.log(`  … ${what}: ${Math.round((performance.now() - start) / 1000)} s${more()}`);
  }, BEAT_MS);
  try {
    return await work;
  } finally {
    clearInterval(beat);
  }
}
