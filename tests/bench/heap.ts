import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { randomIds } from "#main/ports/ids.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { printBudgets } from "./long-life/budgets.ts";
import { keyRow, openNext } from "./long-life/ten-years.ts";
import { printTable, threeFigures } from "./print-table.ts";

const ROWS_A_SECOND = 5;
const HOURS = 10;
const ROWS = HOURS * 3600 * ROWS_A_SECOND;
const ROWS_OF_A_SHEET = 1000;
const LOOKS = 20;
const MIB = 2 ** 20;
/** Flat: what the caches of a day may still take in; a leak of a tenth of a kilobyte a row shows as 17 MiB. */
const MOST_GROWN_MIB = 5;

interface Look {
  readonly hours: number;
  /** What is alive after a forced collection: JavaScript's objects, and bytes held beside them. */
  readonly heap: number;
  readonly beside: number;
  readonly whole: number;
}

function collector(): () => void {
  setFlagsFromString("--expose-gc");
  return runInNewContext("gc") as () => void;
}

function lookAt(row: number, collect: () => void): Look {
  collect();
  const { heapUsed, external, rss } = process.memoryUsage();
  return { hours: row / ROWS_A_SECOND / 3600, heap: heapUsed, beside: external, whole: rss };
}

/** Bytes that are more alive with every hour, by least squares. */
function slope(looks: readonly Look[], of: (look: Look) => number): number {
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, one) => sum + one, 0) / values.length;
  const [hours, bytes] = [mean(looks.map((look) => look.hours)), mean(looks.map(of))];
  const spread = looks.reduce((sum, look) => sum + (look.hours - hours) ** 2, 0);
  return looks.reduce((sum, look) => sum + (look.hours - hours) * (of(look) - bytes), 0) / spread;
}

/** What a window reads between the rows: the end of its sheet, the head of the trail. */
async function readAsAWindow({ call }: TempBench, sheetId: string, row: number): Promise<void> {
  await call("rows.page", { sheetId, from: Math.max(1, row - 40), count: 40 });
  await call("trail.page", { before: null, count: 20 });
}

async function work(bench: TempBench, scene: Scene, rows: number, collect: () => void): Promise<Look[]> {
  const looks = [lookAt(0, collect)];
  const begun = Date.parse(bench.clock.now());
  let sheetId = scene.sheet.id;
  for (let row = 0; row < rows; row += 1) {
    if (row > 0 && row % ROWS_OF_A_SHEET === 0) {
      sheetId = await openNext(bench, scene, row / ROWS_OF_A_SHEET + 1);
    }
    bench.clock.set(new Date(begun + (row * 1000) / ROWS_A_SECOND).toISOString());
    await keyRow(bench.call, sheetId, row);
    if (row % 40 === 0) await readAsAWindow(bench, sheetId, row % ROWS_OF_A_SHEET);
    if ((row + 1) % Math.ceil(rows / LOOKS) === 0) looks.push(lookAt(row + 1, collect));
  }
  return looks;
}

/**
 * The host's memory over ten hours at five rows a second, two readings each: the same number of rows as fast as they
 * go, by the bench's clock at that pace, all on one day. HEAP_ROWS says another number. The first tenth fills caches and
 * is left out of the slope.
 */
export async function benchHeap(): Promise<void> {
  const rows = Number(process.env.HEAP_ROWS ?? ROWS);
  const collect = collector();
  const bench = await tempBench({ ids: randomIds });
  try {
    bench.clock.set("2026-03-02T00:10:00.000Z");
    const scene = await buildScene(bench);
    await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
    const looks = await work(bench, scene, rows, collect);
    printTable(
      ["simulated hours", "heap, MiB", "beside it, MiB", "process, MiB"],
      looks.map(({ hours, heap, beside, whole }) => [
        hours.toFixed(2),
        ...[heap, beside, whole].map((bytes) => (bytes / MIB).toFixed(2)),
      ]),
    );
    const settled = looks.slice(Math.ceil(LOOKS / 10) + 1);
    const perHour = slope(settled, ({ heap, beside }) => heap + beside);
    const grown = perHour * HOURS;
    console.log(
      `alive after a collection: ${threeFigures(perHour / 1024)} KiB more with every hour, ${threeFigures(grown / MIB)} MiB in ${HOURS} hours; the process: ${threeFigures((slope(settled, ({ whole }) => whole) * HOURS) / MIB)} MiB in ${HOURS} hours`,
    );
    printBudgets([
      { what: `alive, more in ${HOURS} hours`, measured: grown / MIB, unit: "MiB", most: MOST_GROWN_MIB },
    ]);
  } finally {
    await bench.end();
  }
}
