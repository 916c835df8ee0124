import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import type { ImportColumn } from "#core/contract/records/exchange.ts";
import { buildScene, calibrateTrain, type Scene } from "../../support/bench-scenes.ts";
import { pythonPrints } from "../../support/outside-programs.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { uploadBytes, uploadFile } from "./upload.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const read = (uploadId: string, worksheet: string | null = null) =>
  bench.call("imports.read", { uploadId, worksheet, methodId: scene.methodId });

function newSheet(): CallInput<"imports.accept">["sheet"] {
  const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } =
    scene.sheet;
  return { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId };
}

const CONVERTED_BY = "2.50 µm per division, by the notebook";

function choice(uploadId: string, columns: ImportColumn[], headingLines = 1) {
  const { methodId } = scene;
  return { uploadId, worksheet: null, headingLines, columns, methodId, convertedBy: CONVERTED_BY };
}

const EDGES: ImportColumn[] = [
  { column: 0, role: "label", dimension: null },
  { column: 1, role: "left", dimension: "length" },
  { column: 2, role: "right", dimension: "length" },
  { column: 3, role: "micrometres", dimension: "width" },
];

/** Invented inputs. */
const NOTEBOOK = [
  "Label;Length left;Length right;Width µm",
  "Calluna;23.0;51,5;25.3",
  '"Juglans; cordata";10.0;31.5;',
  "",
  "=cmd;0;20;-1",
].join("\r\n");

describe("an old notebook", () => {
  it("is understood from its headings, previewed and taken in with its origin and its factor", async () => {
    const uploadId = await uploadBytes(bench, "notebook 1998.csv", Buffer.from(`\ufeff${NOTEBOOK}`));
    const table = await read(uploadId);
    expect(table).toMatchObject({ kind: "csv", lines: 5, columns: 4 });
    expect(table.suggested).toEqual({ headingLines: 1, columns: EDGES });
    const preview = await bench.call("imports.preview", choice(uploadId, EDGES));
    expect(preview).toMatchObject({
      rows: 3,
      readings: 6,
      convertedElsewhere: 2,
      refusedLines: 0,
      refused: [],
    });
    expect(preview.first[0]?.readings).toEqual([
      "Length: 23.0 to 51,5",
      `Width: 25.3 µm, converted elsewhere by ${CONVERTED_BY}`,
    ]);
    expect(await bench.call("sheets.list", {})).toHaveLength(1);

    const input = {
      requestId: bench.request(),
      choice: choice(uploadId, EDGES),
      sheet: newSheet(),
      withoutRefused: false,
    };
    // By what they were converted must be said: an empty word is refused at its field, and nothing is stored.
    const unnamed = { ...input, choice: { ...input.choice, convertedBy: "  " } };
    expect(await bench.refusal("imports.accept", unnamed)).toMatchObject({
      code: "conversion.unnamed",
      field: "choice.convertedBy",
    });
    expect(await bench.call("sheets.list", {})).toHaveLength(1);
    const sheet = await bench.call("imports.accept", input);
    expect(await bench.call("imports.accept", input)).toEqual(sheet);
    expect(sheet.rowCount).toBe(3);
    const { rows } = await bench.call("rows.page", { sheetId: sheet.id, from: 1, count: 10 });
    expect(rows.map((row) => row.label)).toEqual(["Calluna", "Juglans; cordata", "=cmd"]);
    const [length] = rows[0]?.measurements ?? [];
    expect(length).toMatchObject({ left: "23.0", right: "51,5", divisions: "28.5" });
    // Invented readings, by hand: 28.5 div × 1000 µm / 96.4 div = 295.6 µm.
    expect(length?.size?.shownValue).toMatch(/^295\.6/);
    expect(rows[0]?.measurements).toHaveLength(1);
    expect(rows[0]?.note).toBe("From notebook 1998.csv, line 2.");
    const elsewhere = { convertedBy: CONVERTED_BY, sizes: [{ dimension: "width", typed: "25.3" }] };
    expect(rows.map((row) => row.elsewhere)).toEqual([
      elsewhere,
      undefined,
      { ...elsewhere, sizes: [{ dimension: "width", typed: "-1" }] },
    ]);
    // The report tells it apart, and no statistic counts it. By hand: (25.3 − 1)/2 = 12.15, s = 26.3/√2 = 18.597.
    const report = await bench.call("reports.sheet", { sheetId: sheet.id });
    expect(report.cautions).toContain(
      "2 rows carry a size converted elsewhere, not traceable: such sizes stand apart, with what they were converted by, and are in none of the other figures.",
    );
    expect(report.elsewhere).toEqual([
      {
        name: "Width",
        convertedBy: CONVERTED_BY,
        n: 2,
        mean: "12.15",
        s: "18.60",
        least: "−1.00",
        greatest: "25.30",
      },
    ]);
    const width = report.tables.find((one) => one.name === "Width");
    expect(width?.lines.map((one) => one.n)).toEqual(width?.lines.map(() => 0));
    const trail = await bench.call("trail.page", { before: null, count: 20 });
    expect(trail.some((line) => line.act === "imports.accept" && line.detail.includes(table.sha256))).toBe(
      true,
    );
    const verified = await bench.call("trail.verify", {});
    expect(verified.differences).toEqual([]);
  });

  it("leads a size converted elsewhere to no chain, keeps it through undo and redo, and verify names a changed one", async () => {
    const uploadId = await uploadBytes(bench, "notebook.csv", Buffer.from(NOTEBOOK));
    const { id: sheetId } = await bench.call("imports.accept", {
      requestId: bench.request(),
      choice: choice(uploadId, EDGES),
      sheet: newSheet(),
      withoutRefused: false,
    });
    const page = () => bench.call("rows.page", { sheetId, from: 1, count: 10 });
    const [first, second] = (await page()).rows;
    const at = { rowId: first?.id ?? "", dimension: "width" };
    expect((await bench.refusal("trace.backward", at)).code).toBe("dimension.elsewhere");
    expect(await bench.call("trace.elsewhere", at)).toMatchObject({
      dimensionName: "Width",
      typed: "25.3",
      convertedBy: CONVERTED_BY,
      trail: [{ act: "imports.accept" }],
    });
    const plain = { rowId: second?.id ?? "", dimension: "width" };
    expect((await bench.refusal("trace.backward", plain)).code).toBe("dimension.unknown");
    expect((await bench.refusal("trace.elsewhere", plain)).code).toBe("dimension.unknown");

    const before = (await page()).rows;
    const about = () => ({ requestId: bench.request(), sheetId });
    await bench.call("rows.describe", { ...about(), rowId: at.rowId, label: "Erica", note: "" });
    await bench.call("rows.undo", about());
    await bench.call("rows.undo", about());
    expect((await page()).rows).toEqual([]);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    await bench.call("rows.redo", about());
    expect((await page()).rows).toEqual(before);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);

    await bench.program.close();
    withRawDatabase(bench.paths.databaseFile, (database) => {
      database
        .prepare("UPDATE specimen_row SET elsewhere_json = replace(elsewhere_json, '25.3', '29.3')")
        .run();
      const added = JSON.stringify({ convertedBy: "x", sizes: [{ dimension: "width", typed: "7" }] });
      database
        .prepare("UPDATE specimen_row SET elsewhere_json = ? WHERE elsewhere_json IS NULL AND sheet_id = ?")
        .run(added, sheetId);
    });
    await bench.reopen();
    const { differences } = await bench.call("trail.verify", {});
    const named = differences.map(({ where, stored, expected }) => [where, stored, expected]);
    expect(named).toContainEqual([expect.stringContaining("converted elsewhere"), "29.3", "25.3"]);
    expect(named).toContainEqual([
      expect.stringContaining("converted elsewhere"),
      expect.stringContaining('"typed":"7"'),
      "null",
    ]);
  });

  it("stores nothing while a cell is refused, and says which", async () => {
    const bad = "label\tleft\tright\na\t40\t60\nb\tforty\t60\nc\t1,234.5\t9\n";
    const uploadId = await uploadBytes(bench, "notes.tsv", Buffer.from(bad));
    const columns = EDGES.slice(0, 3);
    const preview = await bench.call("imports.preview", choice(uploadId, columns));
    expect(preview).toMatchObject({ rows: 1, refusedLines: 2 });
    expect(preview.refused.map(({ line, column, text }) => [line, column, text])).toEqual([
      [3, 2, "forty"],
      [4, 2, "1,234.5"],
    ]);
    const before = await bench.call("trail.page", { before: null, count: 5 });
    const input = { requestId: bench.request(), choice: choice(uploadId, columns), sheet: newSheet() };
    const error = await bench.refusal("imports.accept", { ...input, withoutRefused: false });
    expect(error.code).toBe("lines.refused");
    expect(await bench.call("sheets.list", {})).toHaveLength(1);
    expect(await bench.call("trail.page", { before: null, count: 5 })).toEqual(before);
    const sheet = await bench.call("imports.accept", {
      ...input,
      requestId: bench.request(),
      withoutRefused: true,
    });
    expect(sheet.rowCount).toBe(1);
  });

  it("comes from a worksheet as well", async () => {
    const path = join(bench.paths.dataFolder, "old.xlsx");
    const script = `
import openpyxl, sys
book = openpyxl.Workbook()
book.active.title = "Cover"
sheet = book.create_sheet("Readings")
sheet.append(["taxon", "length div", "remark"])
sheet.append(["Betula", 20.5, "tilted"])
sheet.append([None, "=10+2", None])
sheet.append(["Corylus", 40.3, None])
book.save(sys.argv[1])`;
    pythonPrints(script, path);
    const uploadId = await uploadFile(bench, path);
    expect((await read(uploadId)).worksheets).toEqual(["Cover", "Readings"]);
    const table = await read(uploadId, "Readings");
    expect(table.sample[1]).toEqual(["Betula", "20.5", "tilted"]);
    expect(table.suggested.columns).toEqual([
      { column: 0, role: "label", dimension: null },
      { column: 1, role: "divisions", dimension: "length" },
      { column: 2, role: "note", dimension: null },
    ]);
    const inWorksheet = { ...choice(uploadId, table.suggested.columns), worksheet: "Readings" };
    const sheet = await bench.call("imports.accept", {
      requestId: bench.request(),
      choice: inWorksheet,
      sheet: newSheet(),
      withoutRefused: false,
    });
    const { rows } = await bench.call("rows.page", { sheetId: sheet.id, from: 1, count: 10 });
    expect(rows.map((row) => row.measurements[0]?.direct)).toEqual(["20.5", "40.3"]);
    expect(rows[0]?.note.startsWith("tilted\nFrom old.xlsx, line 2.")).toBe(true);
    expect(
      (await bench.refusal("imports.read", { uploadId, worksheet: "none", methodId: scene.methodId })).code,
    ).toBe("worksheet.unknown");
  });

  it("is refused when its columns are unclear or its text cannot be read", async () => {
    const uploadId = await uploadBytes(bench, "a.csv", Buffer.from("a,b\n1,2\n"));
    const twice: ImportColumn[] = [
      { column: 0, role: "left", dimension: "length" },
      { column: 1, role: "left", dimension: "length" },
    ];
    const none: ImportColumn[] = [{ column: 0, role: "label", dimension: null }];
    const strange: ImportColumn[] = [{ column: 0, role: "left", dimension: "depth" }];
    for (const columns of [twice, none, strange]) {
      expect((await bench.refusal("imports.preview", choice(uploadId, columns))).code).toBe(
        "columns.unclear",
      );
    }
    const latin = await uploadBytes(bench, "b.csv", Buffer.from([0x61, 0xb5, 0x2c, 0x62]));
    const error = await bench.refusal("imports.read", {
      uploadId: latin,
      worksheet: null,
      methodId: scene.methodId,
    });
    expect(error.message).toContain("save it as UTF-8");
    const open = await uploadBytes(bench, "c.csv", Buffer.from('a,"b\n1,2\n'));
    expect(
      (await bench.refusal("imports.read", { uploadId: open, worksheet: null, methodId: scene.methodId }))
        .message,
    ).toContain("never closed");
  });
});
