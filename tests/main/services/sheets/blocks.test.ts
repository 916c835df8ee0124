import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { measurementDifferences } from "../../../support/measurement-differences.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

type Choices = CallInput<"rows.previewBlock">;

const EDGES: Choices["columns"] = [
  { kind: "label" },
  { kind: "reading", cell: { dimension: "length", edge: "left" } },
  { kind: "reading", cell: { dimension: "length", edge: "right" } },
];

function choices(changes: Partial<Choices> = {}): Choices {
  return {
    sheetId: scene.sheet.id,
    blockId: "block-1",
    columns: EDGES,
    skipFirstLine: false,
    startAt: null,
    excluded: [],
    corrections: [],
    ...changes,
  };
}

async function stage(text: string, blockId = "block-1"): Promise<void> {
  const size = 200_000;
  for (let part = 1; (part - 1) * size < text.length; part += 1) {
    const piece = text.slice((part - 1) * size, part * size);
    await bench.call("rows.stageBlock", { sheetId: scene.sheet.id, blockId, part, text: piece });
  }
}

const accept = (block: Choices) => bench.call("rows.enterBlock", { requestId: bench.request(), block });
const rowCount = async () => (await bench.call("sheets.get", { sheetId: scene.sheet.id })).sheet.rowCount;

/** `count` lines of label, left and right; the cells at `bad` hold a word. */
function block(count: number, bad: readonly number[] = []): string {
  return Array.from({ length: count }, (_, i) => {
    const right = bad.includes(i) ? "smudged" : (40 + (i % 300) / 10).toFixed(1);
    return `grain ${i + 1}\t${i % 20}\t${right}`;
  }).join("\n");
}

describe("a pasted block", () => {
  it("of 10,000 rows with 12 bad cells changes nothing until they are dealt with, then goes in whole", async () => {
    const bad = Array.from({ length: 12 }, (_, i) => i * 800 + 3);
    await stage(block(10_000, bad));
    const preview = await bench.call("rows.previewBlock", choices());
    expect(preview).toMatchObject({ lines: 10_000, newRows: 10_000, readings: 19_988, failedCount: 12 });
    expect(preview.failed[0]).toEqual({
      line: 4,
      column: 3,
      text: "smudged",
      reason: expect.stringContaining("number"),
    });
    expect(preview.columns.map((one) => [one.becomes, one.failed])).toEqual([
      ["label", 0],
      ["Length, left edge (div)", 0],
      ["Length, right edge (div)", 12],
    ]);
    const refused = await bench.refusal("rows.enterBlock", { requestId: bench.request(), block: choices() });
    expect(refused.code).toBe("block.fails");
    expect(refused.message).toContain("12 cells");
    expect(await rowCount()).toBe(0);

    const corrections = bad.slice(0, 4).map((i) => ({ line: i + 1, column: 3, text: "41.5" }));
    const cells = bad.slice(4, 8).map((i) => ({ line: i + 1, column: 3 }));
    const lines = bad.slice(8).map((i) => ({ line: i + 1, column: null }));
    const dealtWith = choices({ corrections, excluded: [...cells, ...lines] });
    const changed = await accept(dealtWith);
    expect(changed).toMatchObject({ count: 9996, from: 1, to: 9996, rows: [], gone: [], total: 9996 });
    const { rows } = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 5000 });
    expect(rows[3]).toMatchObject({ label: "grain 4", measurements: [{ left: "3", right: "41.5" }] });
    expect(rows[3 + 4 * 800]).toMatchObject({ measurements: [{ left: "3", right: null, size: null }] });
    expect((await bench.refusal("rows.previewBlock", dealtWith)).code).toBe("block.unknown");

    const undone = await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id });
    expect(undone).toMatchObject({ words: "a pasted block of 9996 rows", changed: { total: 0 } });
    expect(undone.changed.gone).toHaveLength(9996);
    const redone = await bench.call("rows.redo", { requestId: bench.request(), sheetId: scene.sheet.id });
    expect(redone.changed.total).toBe(9996);
    expect(await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 5000 })).toEqual({
      total: 9996,
      rows,
    });
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  }, 120_000);

  it("goes into rows that are there, as amendments", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await enterLength(bench, scene, "row-2", "10", "31");
    await stage("Salix\t10\t35,5\nSalix\t10\t31\nSalix\t12\t40");
    const into = choices({ startAt: 1 });
    expect(await bench.call("rows.previewBlock", into)).toMatchObject({ newRows: 1, filledRows: 2 });
    const changed = await accept(into);
    expect(changed.rows.map((row) => [row.id.slice(0, 4), row.label, row.measurements[0]?.right])).toEqual([
      ["row-", "Salix", "35,5"],
      ["row-", "Salix", "31"],
      [expect.any(String), "Salix", "40"],
    ]);
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  });

  it("goes into rows line by line: an empty line, or one left out, passes its row over", async () => {
    for (const row of ["row-1", "row-2", "row-3", "row-4"]) await enterLength(bench, scene, row, "10", "30");
    await stage("35\n\n37\n38");
    const columns: Choices["columns"] = [{ kind: "reading", cell: { dimension: "length", edge: "right" } }];
    const into = choices({ startAt: 1, columns, excluded: [{ line: 3, column: null }] });
    expect(await bench.call("rows.previewBlock", into)).toMatchObject({ newRows: 0, filledRows: 2 });
    const changed = await accept(into);
    expect(changed.rows.map((row) => [row.ordinal, row.measurements[0]?.right])).toEqual([
      [1, "35"],
      [4, "38"],
    ]);
  });

  it("of labels alone goes into rows that are there, and begins none", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await enterLength(bench, scene, "row-2", "10", "31");
    await stage("Salix\nAcer\nBetula");
    const columns: Choices["columns"] = [{ kind: "label" }];
    const { failed } = await bench.call("rows.previewBlock", choices({ startAt: 1, columns }));
    expect(failed).toMatchObject([
      { line: 3, column: 1, reason: expect.stringContaining("beyond the last row") },
    ]);
    expect((await bench.refusal("rows.previewBlock", choices({ columns }))).field).toBe("columns");
    const into = choices({ startAt: 1, columns, excluded: [{ line: 3, column: null }] });
    const changed = await accept(into);
    expect(changed.rows.map((row) => [row.label, row.measurements[0]?.right])).toEqual([
      ["Salix", "30"],
      ["Acer", "31"],
    ]);
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
    const undone = await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id });
    expect(undone.changed.rows.map((row) => row.label)).toEqual(["grain", "grain"]);
  });

  it("says of rows that are there why a reading does not go in", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await enterLength(bench, scene, "row-2", "10", "30");
    const at = { requestId: bench.request(), sheetId: scene.sheet.id };
    await bench.call("rows.strike", { ...at, rowId: "row-2", reason: "broken" });
    await stage("25\n26");
    const columns: Choices["columns"] = [{ kind: "reading", cell: { dimension: "length", edge: "direct" } }];
    const { failed } = await bench.call("rows.previewBlock", choices({ startAt: 1, columns }));
    expect(failed.map((one) => one.reason)).toEqual(["row 1 was read at two edges", "row 2 is struck"]);
    expect((await bench.refusal("rows.previewBlock", choices({ startAt: 9, columns }))).field).toBe(
      "startAt",
    );
  });

  it("fills divisions from a notebook, with headers, notes, stage positions and quoted cells", async () => {
    await stage('Nr\tdiv\tremark\tx\ty\n"7 ""a"""\t20.5\t"two\nlines"\t12.5\t-3\n\n8\t21\t\t\t\n');
    const columns: Choices["columns"] = [
      { kind: "label" },
      { kind: "reading", cell: { dimension: "length", edge: "direct" } },
      { kind: "note" },
      { kind: "stage-x" },
      { kind: "stage-y" },
    ];
    const changed = await accept(choices({ columns, skipFirstLine: true }));
    expect(changed.rows).toMatchObject([
      {
        label: '7 "a"',
        note: "two\nlines",
        stage: { x: "12.5", y: "-3" },
        measurements: [{ entry: "direct", direct: "20.5", divisions: "20.5", left: null }],
      },
      { label: "8", note: "", stage: null },
    ]);
    expect(changed.rows[0]?.measurements[0]?.size?.shownValue).toMatch(/^212\.7/);
  });

  it("fills what it gives of a position and leaves the rest of it", async () => {
    await stage("1\t10\t30\t12.5\t-3");
    const columns: Choices["columns"] = [...EDGES, { kind: "stage-x" }, { kind: "stage-y" }];
    await accept(choices({ columns }));
    await stage("m23", "block-2");
    const into = { blockId: "block-2", startAt: 1 };
    const square: Choices["columns"] = [{ kind: "stage-square" }];
    const changed = await accept(choices({ ...into, columns: square }));
    expect(changed.rows[0]?.stage).toEqual({ x: "12.5", y: "-3", square: "m23" });
    await stage("23", "block-3");
    const bad = choices({ blockId: "block-3", startAt: 1, columns: square });
    expect(await bench.call("rows.previewBlock", bad)).toMatchObject({ failedCount: 1 });
  });

  it("is refused whole for columns that do not go together, at the column", async () => {
    await stage("a\t1\t2");
    const twice = choices({ columns: [...EDGES, ...EDGES.slice(1, 2)] });
    expect(await bench.refusal("rows.previewBlock", twice)).toMatchObject({ field: "columns.3" });
    const foreign = choices({ columns: [{ kind: "reading", cell: { dimension: "depth", edge: "left" } }] });
    expect(
      (await bench.refusal("rows.enterBlock", { requestId: bench.request(), block: foreign })).field,
    ).toBe("block.columns.0");
  });

  it("comes in parts, in order, once", async () => {
    const part = { sheetId: scene.sheet.id, blockId: "block-2", text: "a\t1\t2\n" };
    await bench.call("rows.stageBlock", { ...part, part: 1 });
    expect((await bench.refusal("rows.stageBlock", { ...part, part: 3 })).code).toBe("block.out-of-order");
    await bench.call("rows.stageBlock", { ...part, part: 2 });
    await bench.call("rows.stageBlock", { ...part, part: 2 });
    const block = choices({ blockId: "block-2" });
    expect(await bench.call("rows.previewBlock", block)).toMatchObject({ lines: 2, failedCount: 0 });
    const input = { requestId: bench.request(), block };
    const once = await bench.call("rows.enterBlock", input);
    expect(await bench.call("rows.enterBlock", input)).toEqual(once);
    expect(await rowCount()).toBe(2);
  });
});
