import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallReply } from "#core/contract/calls.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../support/bench-scenes.ts";
import { finishedExport, workbookOf } from "../support/finished-export.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { readBook } from "./other-programs.ts";

describe("exporting a sheet through the program", () => {
  let bench: TempBench;
  let scene: Scene;

  async function open(choose?: (suggested: string) => Promise<string | null>): Promise<void> {
    bench = await tempBench({
      downloadAddress: (fileName) => `/export/${fileName}`,
      ...(choose ? { chooseExportPath: choose } : {}),
    });
    scene = await buildScene(bench);
    await calibrateTrain(bench, scene);
    await enterLength(bench, scene, "row-1", "23.0", "51.5");
    await enterLength(bench, scene, "row-2", "10.0", "31.5");
  }

  /** Why no workbook could be written: refused when it was asked for, or found while writing. */
  async function troubleOf() {
    const reply = (await bench.program.dispatch("exports.begin", {
      sheetIds: [scene.sheet.id],
      format: "live workbook",
      paper: "A4",
    })) as CallReply<"exports.begin">;
    return reply.ok ? (await finishedExport(bench, reply.value)).trouble : reply.error;
  }

  beforeEach(() => open());
  afterEach(() => bench.end());

  it("writes the rows that were entered, with the program's version and the digest it answers with", async () => {
    const file = await workbookOf(bench, scene.sheet.id);
    expect(file?.fileName).toBe(`${scene.sheet.number}.xlsx`);
    expect(file?.download).toBe(`/export/${scene.sheet.number}.xlsx`);
    expect(file?.bytes).toBe(readFileSync(file?.path ?? "").length);
    const book = readBook(file?.path ?? "");
    const rows = book.sheets.Rows?.cells ?? {};
    expect([rows.A2?.value, rows.B2?.value, rows.F2?.value, rows.A3?.value]).toEqual([1, "grain", "23.0", 2]);
    expect(String(rows.Q2?.value)).toMatch(/^295\.6 ± /);
    const about = Object.values(book.sheets.About?.cells ?? {}).map((cell) => cell.value);
    expect(about).toContain(file?.dataSha256);
    expect(about).toContain("Linefall 0.0.0-test");
  });

  it("lists what was amended, with its reason", async () => {
    await bench.call("rows.strike", {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      rowId: "row-2",
      reason: "not a grain",
    });
    const file = await workbookOf(bench, scene.sheet.id, "values");
    const cells = Object.values(readBook(file?.path ?? "").sheets.Amendments?.cells ?? {});
    expect(cells.map((cell) => cell.value)).toContain("not a grain");
    expect(cells.map((cell) => cell.value)).toContain("rows.strike");
  });

  it("never writes over an earlier export unasked", async () => {
    const first = await workbookOf(bench, scene.sheet.id);
    const second = await workbookOf(bench, scene.sheet.id);
    expect(second?.fileName).toBe(`${scene.sheet.number} (2).xlsx`);
    expect(existsSync(first?.path ?? "")).toBe(true);
    expect(second?.dataSha256).toBe(first?.dataSha256);
  });

  it("says in words why a folder cannot be written and leaves nothing behind", async () => {
    mkdirSync(bench.paths.dataFolder, { recursive: true });
    writeFileSync(bench.paths.exportFolder, "a file where the folder should be");
    const error = await troubleOf();
    expect(error?.message).toMatch(/could not be written|Nothing was saved/);
    expect(error?.message).toContain(bench.paths.exportFolder);
    expect(error?.message).toMatch(/a file stands where the folder should be|not a folder/);
    expect(error?.hint).toContain("Choose another folder");
  });

  // No mode keeps root out; Linux has folders in which nobody makes a file.
  const isRoot = process.getuid?.() === 0;
  it.skipIf(isRoot && process.platform !== "linux")(
    "refuses a folder without the right to write",
    async () => {
      if (isRoot) symlinkSync("/sys/kernel", bench.paths.exportFolder);
      else mkdirSync(bench.paths.exportFolder, { mode: 0o500 });
      const before = readdirSync(bench.paths.exportFolder);
      const error = await troubleOf();
      expect(error?.message).toMatch(/could not be written|Nothing was saved/);
      expect(readdirSync(bench.paths.exportFolder)).toEqual(before);
    },
  );

  it("goes where the person says, and nowhere when they cancel", async () => {
    await bench.end();
    let answer: string | null = null;
    await open(async (suggested) => (answer === null ? null : join(answer, `my ${suggested}`)));
    expect(await workbookOf(bench, scene.sheet.id)).toBeNull();
    answer = bench.paths.exportFolder;
    const file = await workbookOf(bench, scene.sheet.id);
    expect(file?.path).toBe(join(answer, `my ${scene.sheet.number}.xlsx`));
    answer = join(bench.paths.databaseFile, "inside a file");
    const error = await troubleOf();
    expect(error?.message).toMatch(/could not be written|Nothing was saved/);
  });

  it("refuses a sheet that is not there", async () => {
    const error = await bench.refusal("exports.begin", {
      sheetIds: ["nowhere"],
      format: "live workbook",
      paper: "A4",
    });
    expect(error?.code).toBe("sheet.unknown");
  });
});
