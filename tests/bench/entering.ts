import { randomUUID } from "node:crypto";
import type { BlockColumn } from "#core/contract/records/block.ts";
import { randomIds } from "#main/ports/ids.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { printTable, threeFigures } from "./print-table.ts";

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

/** As a window makes them: in no order, so that their indexes are written all over. */
const requestId = (): string => randomUUID();

/** Readings in tenths of a division, made by a fixed rule. */
function lines(from: number, count: number): string {
  return Array.from({ length: count }, (_, i) => {
    const n = from + i;
    const left = ((n * 7919) % 200) / 10;
    const right = left + 20 + ((n * 104_729) % 300) / 10;
    return [`Taxon ${n % 12}`, left, right.toFixed(1), left, (left + 12).toFixed(1)].join("\t");
  }).join("\n");
}

async function paste(bench: TempBench, scene: Scene, from: number, count: number): Promise<number[]> {
  const sheetId = scene.sheet.id;
  const blockId = requestId();
  const text = lines(from, count);
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

/** Times of single readings from the call to its answer, on disk, in rising order, ms. */
async function enterSome(bench: TempBench, scene: Scene): Promise<number[]> {
  const times: number[] = [];
  for (let row = 0; row < TIMED / 2; row += 1) {
    const rowId = requestId();
    for (const edge of ["left", "right"] as const) {
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
      times.push(performance.now() - start);
    }
  }
  return times.sort((a, b) => a - b);
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

async function anotherSheet(bench: TempBench, { sheet, ...scene }: Scene): Promise<Scene> {
  const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const opened = await bench.call("sheets.open", {
    requestId: requestId(),
    sheet: { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId },
  });
  return { ...scene, sheet: opened };
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

/**
 * What the program behind the window needs for a reading, from the call to its answer after the commit, with ever more
 * rows on the sheet; for opening such a sheet; and for a pasted block of 10,000 rows with four readings each, which is
 * also taken back and done again. Disk and machine set the times; the ratios to 100 rows are what is promised.
 */
export async function benchEntering(): Promise<void> {
  const bench = await tempBench({ ids: randomIds });
  try {
    const scene = await buildScene(bench);
    await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
    const entering: string[][] = [];
    const opening: string[][] = [];
    const pasting: string[][] = [];
    let base: number[] = [];
    for (const size of SIZES) {
      const own = await anotherSheet(bench, scene);
      for (let from = 0; from < size; from += BLOCK) {
        const times = await paste(bench, own, from, Math.min(BLOCK, size - from));
        if (from + BLOCK === size)
          pasting.push([`onto ${from.toLocaleString("en-GB")} rows`, ...times.map(threeFigures)]);
      }
      if (size === BLOCK) {
        const times = await timedUndo(bench, own);
        pasting.push(["taken back, done again", "", ...times.map(threeFigures)]);
      }
      const name = `${size.toLocaleString("en-GB")} rows`;
      opening.push([name, ...(await openSheet(bench, own)).map(threeFigures)]);
      const times = await enterSome(bench, own);
      const quantiles = [0.5, 0.95, 0.99].map((share) => at(times, share));
      if (base.length === 0) base = quantiles;
      entering.push([
        name,
        ...quantiles.map(threeFigures),
        ...quantiles.map((value, i) => `${threeFigures(value / (base[i] ?? value))} ×`),
      ]);
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
      entering,
    );
    console.log("");
    printTable(["opening a sheet of", "sheet and page, ms", "columns, ms", "histories, ms"], opening);
    console.log("");
    printTable(["10,000 rows, 40,000 readings", "staged, ms", "previewed, ms", "taken in, ms"], pasting);
  } finally {
    await bench.end();
  }
}
