import { cpSync, existsSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";
import type { BenchPaths } from "#main/ports/paths.ts";
import { openBench } from "#main/store/bench-file/open.ts";
import { buildScene, calibrateTrain, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { readingLines } from "../reading-lines.ts";
import { copySheets } from "./copied-sheets.ts";

const ROWS_OF_A_SHEET = 1000;
/** Made by the program's calls, the last of them reading by reading; the others are copies of them. */
const SHEETS_BY_CALLS = 20;
const DAY_MS = 86_400_000;

export interface TenYears {
  readonly paths: BenchPaths;
  /** A sheet that takes more rows. */
  readonly sheetId: string;
  readonly rows: number;
  /** An instant on the day after all the readings. */
  readonly dayAfter: string;
  remove(): void;
}

const LENGTH = { dimension: "length", repeat: 1 } as const;

export async function openNext({ call }: TempBench, scene: Scene, number: number): Promise<string> {
  const { microscope, methodId } = scene;
  const sheet = await call("sheets.open", {
    requestId: randomIds.next(),
    sheet: {
      sample: `Invented sample ${number}`,
      customer: "",
      note: "",
      methodId,
      microscopeId: microscope.id,
      eyepieceId: microscope.eyepieces[0]?.id ?? "",
      intermediateMagnification: scene.sheet.intermediateMagnification,
      objectiveId: microscope.objectives[0]?.id ?? "",
    },
  });
  return sheet.id;
}

async function paste({ call }: TempBench, sheetId: string, from: number, count: number): Promise<void> {
  const blockId = randomIds.next();
  const text = readingLines(from, count)
    .split("\n")
    .map((line) => line.split("\t").slice(0, 3).join("\t"))
    .join("\n");
  await call("rows.stageBlock", { sheetId, blockId, part: 1, text });
  await call("rows.enterBlock", {
    requestId: randomIds.next(),
    block: {
      sheetId,
      blockId,
      columns: [
        { kind: "label" },
        { kind: "reading", cell: { ...LENGTH, edge: "left" } },
        { kind: "reading", cell: { ...LENGTH, edge: "right" } },
      ],
      skipFirstLine: false,
      startAt: null,
      excluded: [],
      corrections: [],
    },
  });
}

/** One row by its two edges, as the keypad sends them. */
export async function keyRow(call: TempBench["call"], sheetId: string, row: number): Promise<void> {
  const rowId = randomIds.next();
  const [label = "", left = "", right = ""] = readingLines(row, 1).split("\t");
  for (const [edge, typed] of [
    ["left", left],
    ["right", right],
  ] as const) {
    await call("rows.enter", {
      requestId: randomIds.next(),
      sheetId,
      rowId,
      cell: { ...LENGTH, edge },
      typed,
      label,
    });
  }
}

/**
 * A bench as ten years of work leave it: rows of two typed edges in sheets of a thousand. Twenty sheets are made by the
 * program's own calls, nineteen pasted and one keyed; the others are copies of these, with every line of the trail told
 * and chained for each. All of it is invented; all of it was done on one day, for with every new day the program would
 * stop to copy the bench.
 */
export async function tenYears(rows: number): Promise<TenYears> {
  const bench = await tempBench({ ids: randomIds });
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
  let sheetId = scene.sheet.id;
  const sheets = Math.ceil(rows / ROWS_OF_A_SHEET);
  for (let number = 1; number <= Math.min(sheets, SHEETS_BY_CALLS); number += 1) {
    const from = (number - 1) * ROWS_OF_A_SHEET;
    if (number > 1) sheetId = await openNext(bench, scene, number);
    if (number < SHEETS_BY_CALLS) await paste(bench, sheetId, from, ROWS_OF_A_SHEET);
    else for (let row = from; row < from + ROWS_OF_A_SHEET; row += 1) await keyRow(bench.call, sheetId, row);
  }
  const dayAfter = new Date(Date.parse(bench.clock.now()) + DAY_MS).toISOString();
  await bench.program.close();
  const { paths, clock } = bench;
  const open = await openBench({ paths, clock, host: "bench" });
  copySheets(open.db, sheets);
  open.close();
  return { paths, sheetId, rows: sheets * ROWS_OF_A_SHEET, dayAfter, remove: () => void bench.end() };
}

/** A copy of one that was made earlier and is kept in a folder; it is made there where it is not there yet. */
export async function keptTenYears(folder: string, rows: number): Promise<TenYears> {
  const kept = join(folder, String(rows));
  if (!existsSync(benchPaths(kept).databaseFile)) {
    const made = await tenYears(rows);
    cpSync(made.paths.dataFolder, `${kept}.partial`, { recursive: true });
    made.remove();
    renameSync(`${kept}.partial`, kept);
  }
  const own = mkdtempSync(`${kept}-`);
  cpSync(kept, own, { recursive: true });
  const paths = benchPaths(own);
  const bench = new Database(paths.databaseFile, { readonly: true });
  const read = (sql: string): string => String(bench.prepare(sql).pluck().get());
  const sheetId = read("SELECT id FROM sheet ORDER BY ordinal DESC LIMIT 1");
  const newest = read(
    "SELECT strftime('%Y-%m-%dT%H:%M:%fZ', at / 1000.0, 'unixepoch') FROM audit_line ORDER BY sequence DESC LIMIT 1",
  );
  bench.close();
  return {
    paths,
    sheetId,
    rows,
    dayAfter: new Date(Date.parse(newest) + DAY_MS).toISOString(),
    remove: () => rmSync(own, { recursive: true, force: true }),
  };
}
