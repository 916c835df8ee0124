import { existsSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { ExportChoice, ExportProgress } from "#core/contract/records/exchange.ts";
import { SheetDocument } from "#core/contract/records/sheet-document.ts";
import { digestOfDocument, sheetDocumentSchema } from "#main/exchange/json-file.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enterLength(bench, scene, "row-2", "10.0", "31.5");
});
afterEach(() => bench.end());

async function ended(choice: ExportChoice): Promise<ExportProgress> {
  const begun = await bench.call("exports.begin", choice);
  const exportId = begun?.exportId ?? "";
  for (;;) {
    const now = await bench.call("exports.status", { exportId });
    if (now.state !== "writing") return now;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

describe("an export that goes on behind the window", () => {
  it("ends with every row counted, a file and the digest of its data, in every format", async () => {
    const digests = new Set<string>();
    for (const format of ["live workbook", "values workbook", "csv", "json"] as const) {
      const done = await ended({ sheetIds: [scene.sheet.id], format, paper: "A4" });
      expect(done, format).toMatchObject({ state: "done", rows: 2, ofRows: 2, trouble: null });
      expect(existsSync(done.file?.path ?? "")).toBe(true);
      digests.add(done.file?.dataSha256 ?? "");
    }
    expect(digests.size).toBe(1);
  });

  it("can be stopped, and leaves no file behind", async () => {
    const begun = await bench.call("exports.begin", {
      sheetIds: [scene.sheet.id],
      format: "live workbook",
      paper: "Letter",
    });
    const exportId = begun?.exportId ?? "";
    await bench.call("exports.cancel", { exportId });
    let now = await bench.call("exports.status", { exportId });
    for (; now.state === "writing"; now = await bench.call("exports.status", { exportId })) {
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    expect(now).toMatchObject({ state: "cancelled", file: null });
    expect(readdirSync(bench.paths.exportFolder)).toEqual([]);
  });

  it("is stopped when the bench closes", async () => {
    await bench.call("exports.begin", { sheetIds: [scene.sheet.id], format: "live workbook", paper: "A4" });
    await bench.reopen();
    expect(readdirSync(bench.paths.exportFolder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  it("refuses sheets and exports that are not there", async () => {
    const choice = { sheetIds: ["nowhere"], format: "csv", paper: "A4" };
    expect((await bench.refusal("exports.begin", choice)).code).toBe("sheet.unknown");
    expect((await bench.refusal("exports.status", { exportId: "none" })).code).toBe("export.unknown");
  });
});

describe("the JSON file", () => {
  it("holds the records as they are, agrees with its schema's types, and its digest can be made again", async () => {
    const done = await ended({ sheetIds: [scene.sheet.id], format: "json", paper: "A4" });
    const document = SheetDocument.parse(JSON.parse(readFileSync(done.file?.path ?? "", "utf8")));
    const [sheet] = document.sheets;
    if (!sheet) throw new Error("the document has a sheet");
    const page = await bench.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 10 });
    expect(sheet.rows).toEqual(page.rows);
    expect(sheet.method.id).toBe(scene.methodId);
    expect(digestOfDocument(document, sheet)).toBe(done.file?.dataSha256);
    sheet.rows[0] = { ...page.rows[0], label: "changed" } as (typeof sheet.rows)[number];
    expect(digestOfDocument(document, sheet)).not.toBe(done.file?.dataSha256);
  });

  it("has a published schema that names every record", () => {
    const schema = JSON.stringify(sheetDocumentSchema());
    for (const name of ["sheets", "calibrations", "stageMicrometers", "expandedUncertainty", "dataSha256"]) {
      expect(schema).toContain(`"${name}"`);
    }
    expect(schema).toContain('"pattern":"^-?\\\\d+(\\\\.\\\\d+)?$"');
  });
});

describe("the CSV file", () => {
  it("begins with its mark, ends its lines with CR LF and keeps readings as typed", async () => {
    const done = await ended({ sheetIds: [scene.sheet.id], format: "csv", paper: "A4" });
    const text = readFileSync(done.file?.path ?? "", "utf8");
    expect(text.startsWith("\ufeff")).toBe(true);
    const lines = text.slice(1).split("\r\n");
    expect(lines).toHaveLength(4);
    expect(lines.at(-1)).toBe("");
    expect(lines[2]).toContain('"10.0","31.5"');
    expect(lines[1]).toMatch(/,28.5,10\.37\d+,295\.\d+,/);
  });

  it("is shown in its folder by a host that can, as long as the file is there", async () => {
    const choice: ExportChoice = { sheetIds: [scene.sheet.id], format: "csv", paper: "A4" };
    const here = await ended(choice);
    expect(await bench.call("bench.status", {})).toMatchObject({ showsFolders: false });
    expect(await bench.refusal("exports.showInFolder", { exportId: here.exportId })).toMatchObject({
      code: "folder.unavailable",
      hint: expect.stringContaining(String(here.file?.path)),
    });
    await bench.end();

    const showInFolder = vi.fn(async () => undefined);
    bench = await tempBench({ showInFolder });
    scene = await buildScene(bench);
    const { exportId, file } = await ended({ ...choice, sheetIds: [scene.sheet.id] });
    expect(await bench.call("bench.status", {})).toMatchObject({ showsFolders: true });
    await bench.call("exports.showInFolder", { exportId });
    expect(showInFolder.mock.calls).toEqual([[file?.path]]);
    rmSync(file?.path ?? "");
    expect((await bench.refusal("exports.showInFolder", { exportId })).code).toBe("folder.unavailable");
    expect((await bench.refusal("exports.showInFolder", { exportId: "none" })).code).toBe("export.unknown");
  });
});
