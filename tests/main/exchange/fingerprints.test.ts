import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openWorkbookFile } from "#main/exchange/workbook-file.ts";
import { workbookOf } from "../../support/finished-export.ts";
import { fullBench } from "../../support/full-bench.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let sheetId: string;

beforeEach(async () => {
  bench = await tempBench();
  sheetId = (await fullBench(bench)).sheet.id;
}, 60_000);
afterEach(() => bench.end());

/** What About says beside its fields. */
async function aboutOf(path: string): Promise<ReadonlyMap<string, unknown>> {
  const file = await openWorkbookFile(path);
  const found = new Map<string, unknown>();
  try {
    const names = new Map<number, string>();
    for await (const cells of file.cells("About")) {
      for (const { row, column, value } of cells) {
        if (column === 1) names.set(row, String(value));
        if (column === 2) found.set(names.get(row) ?? "", value);
      }
    }
  } finally {
    await file.close();
  }
  return found;
}

describe("the fingerprints of a sheet", () => {
  it("are named alike by signature, report and workbook", async () => {
    const { signOffs } = await bench.call("sheets.signOffs", { sheetId });
    const report = await bench.call("reports.sheet", { sheetId });
    const file = await workbookOf(bench, sheetId);
    const about = await aboutOf(file?.path ?? "");
    const [signed] = signOffs;
    expect(signed).toMatchObject({ kind: "signed", ended: null });
    expect(report.rowsSha256).toBe(signed?.dataSha256);
    expect(about.get("Rows and results, SHA-256")).toBe(signed?.dataSha256);
    expect(about.get("All records, SHA-256")).toBe(file?.dataSha256);
    expect(report.dataSha256).toBe(file?.dataSha256);
    expect(report.dataSha256).not.toBe(report.rowsSha256);
  });

  it("tell which sign-offs are of the figures printed", async () => {
    const before = await bench.call("reports.sheet", { sheetId });
    expect(before.state).toBe("signed");
    expect(before.signOffs.filter((one) => one.isPresent).map((one) => one.kind)).toEqual(
      ["closed", "reviewed", "signed"].slice(3 - before.signOffs.filter((one) => one.isPresent).length),
    );
    await bench.call("rows.enter", {
      requestId: bench.request(),
      sheetId,
      rowId: "row-1",
      cell: { dimension: "length", edge: "right" },
      typed: "60.4",
      label: "grain",
      reason: "read once more",
    });
    const after = await bench.call("reports.sheet", { sheetId });
    expect(after.signOffs.some((one) => one.isPresent)).toBe(false);
    expect(after.state).toBe("closed");
  });
});

describe("the report", () => {
  it("tells second readings, amendments and re-evaluations in words, without a raw key", async () => {
    const report = await bench.call("reports.sheet", { sheetId });
    expect(report.laboratory.name).toBe("Invented laboratory");
    expect(report.secondReadings).toMatchObject([{ number: 1, rows: 2, sameReader: true, drawn: false }]);
    expect(report.secondReadings[0]?.agreement).toMatchObject([
      { name: "Length", n: 2, bias: expect.stringMatching(/^−\d+$/) },
    ]);
    const what = report.amendments.map((one) => one.what);
    const size = String.raw`\d+\.\d\d µm → \d+\.\d\d µm`;
    for (const words of [
      String.raw`^Row 2, Length, right edge: [\d.]+ → [\d.]+ div; size ${size}$`,
      `^Row 4: measured with another objective; Length ${size}$`,
    ]) {
      expect(what.filter((one) => new RegExp(words).test(one))).toHaveLength(1);
    }
    expect(what.filter((one) => /^\d results? converted again with Calibration \d/.test(one))).toHaveLength(
      2,
    );
    expect(report.cautions).toContainEqual(expect.stringMatching(/^1 measurement: few divisions\. /));
    const printed = JSON.stringify(report);
    for (const raw of ["few-divisions", "(s)", "rows.amend", "on Rows", "worksheet"]) {
      expect(printed).not.toContain(raw);
    }
    expect(JSON.stringify(report.tables)).not.toMatch(/["o ]-\d/);
  });
});
