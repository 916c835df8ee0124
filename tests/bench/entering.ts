import type { BlockColumn } from "#core/contract/records/block.ts";
import { randomIds } from "#main/ports/ids.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { printTable, threeFigures } from "./print-table.ts";
import { readingLines } from "./reading-lines.ts";

const SIZES = [100, 10_000, 100_000] as const;
const TIMED = 1000;
const BLOCK = 10_000;
const PART = 200_000;
const COLUMNS_AT_ONCE = 25_000;

const COLUMNS: readonly BlockColumn[] = [
  { kind: "label" },
  { kind: "reading", cell: { dimension: "length", edge: "left", repeat: 1 } },
  { kind: "reading", cell: { dimension: "length", edge: "right", repeat: 1 } },
  { kind: "reading", cell: { dimension: "width", edge: "left", repeat: 1 } },
  { kind: "reading", cell: { dimension: "width", edge: "right", repeat: 1 } },
];

/** As a window makes them. */
const requestId = (): string => randomIds.next();

async function paste(bench: TempBench, scene: Scene, from: number, count: number): Promise<number[]> {
  const sheetId = scene.sheet.id;
  const blockId = requestId();
  const text = readingLines(from, count);
  const start = performance.now();
  for (let part = 1; (part - 1) * PART < text.length; part += 1) {
    const piece = text.slice((part - 1) * PART, part * PART);
    await bench.call("rows.stageBlock", { sheetId, blockId, part, text: piece });
  }
  const staged = performance.now();
  const block = {
    sheetId,
    blockId,
    columns: [...COLUMNS],
    skipFirstLine: false,
    startAt: null,
    excluded: [],
    corrections: [],
  };
  await bench.call("rows.previewBlock", block);
  const seen = performance.now();
  await bench.call("rows.enterBlock", { requestId: requestId(), block });
  return [staged - start, seen - staged, performance.now() - seen];
}

function at(rising: readonly number[], share: number): number {
  return rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;
}

/** A bench of its own, so that the size of its file counts too. */
export interface Filled {
  readonly bench: TempBench;
  readonly scene: Scene;
}

async function enterOne({ bench, scene }: Filled, rowId: string, row: number, edge: "left" | "right") {
  const input = {
    requestId: requestId(),
    sheetId: scene.sheet.id,
    rowId,
    cell: { dimension: "length", edge },
    typed: edge === "left" ? "10.5" : (40 + (row % 200) / 10).toFixed(1),
    label: `Taxon ${row % 12}`,
  };
  const start = performance.now();
  await bench.call("rows.enter", input);
  return performance.now() - start;
}

/**
 * Times of single readings from the call to its answer, on disk, in rising order, ms: by turns, so that whatever else
 * the machine does falls on all benches alike.
 */
async function enterByTurns(filled: readonly Filled[]): Promise<number[][]> {
  const times = filled.map((): number[] => []);
  for (let row = 0; row < TIMED / 2; row += 1) {
    const ids = filled.map(requestId);
    for (const edge of ["left", "right"] as const) {
      for (const [i, one] of filled.entries()) {
        times[i]?.push(await enterOne(one, ids[i] ?? "", row, edge));
      }
    }
  }
  return times.map((list) => list.sort((a, b) => a - b));
}

/** Opening the sheet as a window does: the sheet, the first page, all its columns and histories. */
async function openSheet(bench: TempBench, scene: Scene): Promise<number[]> {
  const sheetId = scene.sheet.id;
  const start = performance.now();
  const { sheet } = await bench.call("sheets.get", { sheetId });
  await bench.call("rows.page", { sheetId, from: Math.max(1, sheet.rowCount - 99), count: 100 });
  const first = performance.now();
  for (let from = 1; from <= sheet.rowCount; from += COLUMNS_AT_ONCE) {
    await bench.call("sheets.columns", { sheetId, from, count: COLUMNS_AT_ONCE });
  }
  const columns = performance.now();
  await bench.call("sheets.history", { sheetId });
  return [first - start, columns - first, performance.now() - columns];
}

async function timedUndo(bench: TempBench, scene: Scene): Promise<number[]> {
  const sheetId = scene.sheet.id;
  const times: number[] = [];
  for (const name of ["rows.undo", "rows.redo"] as const) {
    const start = performance.now();
    await bench.call(name, { requestId: requestId(), sheetId });
    times.push(performance.now() - start);
  }
  return times;
}

function sheetOf(size: number): string {
  return `${size.toLocaleString("en-GB")} rows`;
}

/** A bench with one sheet of so many rows. @returns it, and lines for the table of pasted blocks */
export async function fill(size: number): Promise<Filled & { readonly pasting: string[][] }> {
  const bench = await tempBench({ ids: randomIds });
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
  const pasting: string[][] = [];
  for (let from = 0; from < size; from += BLOCK) {
    const times = await paste(bench, scene, from, Math.min(BLOCK, size - from));
    if (from + BLOCK === size) pasting.push([`onto ${sheetOf(from)}`, ...times.map(threeFigures)]);
  }
  if (size === BLOCK) {
    const times = await timedUndo(bench, scene);
    pasting.push(["taken back, done again", "", ...times.map(threeFigures)]);
  }
  return { bench, scene, pasting };
}

/**
 * What the program behind the window needs for a reading, from the call to its answer after the commit, with ever more
 * rows on the sheet; for opening such a sheet; and for a pasted block of 10,000 rows with four readings each, which is
 * also taken back and done again. Disk and machine set the times; the ratios to 100 rows are what is promised.
 */
export async function benchEntering(): Promise<void> {
  const filled: (Filled & { readonly pasting: string[][] })[] = [];
  try {
    for (const size of SIZES) filled.push(await fill(size));
    const quantiles = (await enterByTurns(filled)).map((times) =>
      [0.5, 0.95, 0.99].map((share) => at(times, share)),
    );
    const opening: string[][] = [];
    for (const [i, one] of filled.entries()) {
      opening.push([sheetOf(SIZES[i] ?? 0), ...(await openSheet(one.bench, one.scene)).map(threeFigures)]);
    }
    printTable(
      [
        "one reading, to its answer",
        "p50, ms",
        "p95, ms",
        "p99, ms",
        "p50 to 100",
        "p95 to 100",
        "p99 to 100",
      ],
      quantiles.map((own, i) => [
        sheetOf(SIZES[i] ?? 0),
        ...own.map(threeFigures),
        ...own.map((value, q) => `${threeFigures(value / (quantiles[0]?.[q] ?? value))} ×`),
      ]),
    );
    console.log("");
    printTable(["opening a sheet of", "sheet and page, ms", "columns, ms", "histories, ms"], opening);
    console.log("");
    printTable(
      ["10,000 rows, 40,000 readings", "staged, ms", "previewed, ms", "taken in, ms"],
      filled.flatMap((one) => one.pasting),
    );
  } finally {
    for (const { bench } of filled) await bench.end();
  }
}
