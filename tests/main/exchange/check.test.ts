import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { deflateRawSync } from "node:zlib";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { workbookOf } from "../../support/finished-export.ts";
import { pythonPrints } from "../../support/outside-programs.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { editedCopy, recalculated } from "../../workbook/other-programs.ts";
import { uploadBytes, uploadFile } from "./upload.ts";

let bench: TempBench;
let scene: Scene;
let path = "";

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  for (let row = 1; row <= 12; row += 1) {
    await enterLength(bench, scene, `row-${row}`, "10.0", `${30 + row}.5`);
  }
  const file = await workbookOf(bench, scene.sheet.id);
  path = file?.path ?? "";
  bench.clock.set("2026-04-01T08:00:00.000Z");
});
afterEach(() => bench.end());

const check = async (file: string) =>
  bench.call("exchange.check", { uploadId: await uploadFile(bench, file) });

describe("a workbook that comes back", () => {
  it("is told to be unchanged as it was exported, and as LibreOffice saved it anew", async () => {
    const asExported = await check(path);
    expect(asExported).toMatchObject({ verdict: "unchanged", differing: 0, differences: [] });
    expect(asExported.cells).toBeGreaterThan(300);
    expect(asExported.printedSha256).toBe(asExported.presentSha256);
    expect(asExported.sheets).toEqual([scene.sheet.number]);
    const saved = await check(recalculated(path));
    expect(saved.differences).toEqual([]);
    expect(saved.verdict).toBe("unchanged");
  });

  it("names the one cell that was edited", async () => {
    const report = await check(editedCopy(path, "Rows", "G3", 99.5));
    expect(report.verdict).toBe("changed");
    expect(report.differences).toEqual([{ worksheet: "Rows", cell: "G3", found: "99.5", expected: "32.5" }]);
    expect(report.words).toContain("one cell differs");
  });

  it("names a formula that was replaced by its number, and a worksheet that was added", async () => {
    const copy = path.replace(".xlsx", "-frozen.xlsx");
    const script = `
import openpyxl, sys
book = openpyxl.load_workbook(sys.argv[1])
book["Rows"]["K4"] = 1234.5
book.create_sheet("Extra")["A1"] = "hello"
book.save(sys.argv[2])`;
    pythonPrints(script, path, copy);
    const report = await check(copy);
    expect(report.differences.map(({ worksheet, cell }) => `${worksheet}!${cell}`)).toEqual([
      "Rows!K4",
      "Extra!",
    ]);
  });

  it("says that the bench has changed when a row was added since", async () => {
    await enterLength(bench, scene, "row-13", "1", "50");
    const report = await check(path);
    expect(report.verdict).toBe("changed");
    expect(report.words).toContain("The bench's data have changed since this export");
  });

  it("is not ours when another program made it, or another bench", async () => {
    const strange = join(bench.paths.dataFolder, "strange.xlsx");
    pythonPrints(
      "import openpyxl,sys; b=openpyxl.Workbook(); b.active['A1']='=1+1'; b.save(sys.argv[1])",
      strange,
    );
    expect((await check(strange)).verdict).toBe("not ours");
    const other = await tempBench();
    try {
      const uploadId = await uploadFile(other, path);
      expect((await other.call("exchange.check", { uploadId })).verdict).toBe("not ours");
    } finally {
      await other.end();
    }
  });
});

/** A zip file of one part whose directory may lie about it. */
function zipOf(name: string, content: Buffer, claimed = content.length): Buffer {
  const packed = deflateRawSync(content);
  const local = Buffer.alloc(30 + name.length);
  local.writeUInt32LE(0x04034b50, 0);
  local.writeUInt16LE(8, 8);
  local.writeUInt16LE(name.length, 26);
  local.write(name, 30);
  const entry = Buffer.alloc(46 + name.length);
  entry.writeUInt32LE(0x02014b50, 0);
  entry.writeUInt32LE(packed.length, 20);
  entry.writeUInt32LE(claimed, 24);
  entry.writeUInt16LE(name.length, 28);
  entry.write(name, 46);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(entry.length, 12);
  end.writeUInt32LE(local.length + packed.length, 16);
  return Buffer.concat([local, packed, entry, end]);
}

describe("a file made to harm", () => {
  const refusal = async (bytes: Buffer) => {
    const uploadId = await uploadBytes(bench, "harm.xlsx", bytes);
    return bench.refusal("exchange.check", { uploadId });
  };

  it("is refused when it unpacks without end, and the program goes on", async () => {
    const endless = Buffer.from("<a/>".repeat(16 * 1024 * 1024));
    const error = await refusal(zipOf("xl/workbook.xml", endless, 100));
    expect(error.code).toBe("file.unreadable");
    expect(error.message).toContain("unpacks to more than");
    expect((await bench.call("sheets.list", {})).length).toBe(1);
  });

  it.each([
    ["a document type", '<!DOCTYPE x [<!ENTITY a "aaaa">]><workbook>&a;</workbook>'],
    ["an entity of its own", "<workbook>&boom;</workbook>"],
    ["no worksheet", "<workbook/>"],
  ])("is refused with %s", async (_, xml) => {
    expect((await refusal(zipOf("xl/workbook.xml", Buffer.from(xml)))).code).toBe("file.unreadable");
  });

  it.each([
    ["text", Buffer.from("not a zip file at all")],
    ["a file cut off", () => readFileSync(path).subarray(0, 2000)],
    ["a damaged directory", Buffer.concat([Buffer.from("PK\u0003\u0004"), Buffer.alloc(400, 7)])],
  ])("is refused when it is %s", async (_, bytes) => {
    expect((await refusal(typeof bytes === "function" ? bytes() : bytes)).code).toBe("file.unreadable");
  });

  it("is refused before it is taken in when it is too large, and in part when parts do not come in order", async () => {
    const large = { fileName: "large.xlsx", bytes: 65 * 1024 * 1024 };
    expect((await bench.refusal("uploads.begin", large)).message).toContain("larger than 64 MB");
    const { uploadId } = await bench.call("uploads.begin", { fileName: "../../evil.xlsx", bytes: 10 });
    const late = { uploadId, offset: 5, base64: Buffer.from("abcde").toString("base64") };
    expect((await bench.refusal("uploads.part", late)).code).toBe("upload.out-of-order");
    expect((await bench.refusal("exchange.check", { uploadId })).code).toBe("upload.incomplete");
    expect((await bench.refusal("exchange.check", { uploadId: "nothing" })).code).toBe("upload.unknown");
    writeFileSync(join(bench.paths.dataFolder, "still-here"), "");
  });
});
