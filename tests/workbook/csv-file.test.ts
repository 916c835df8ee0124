import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CSV_COLUMNS, writeCsv } from "#main/exchange/csv-file.ts";
import { NO_PROGRESS } from "#main/long-work/progress.ts";
import { pythonPrints } from "../support/outside-programs.ts";
import { bundleOf } from "./example-bundle.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-csv-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What Python's csv module, an independent reader of RFC 4180, finds in a file. */
function readByPython(path: string): string[][] {
  const script =
    "import csv,json,sys\nprint(json.dumps(list(csv.reader(open(sys.argv[1],encoding='utf-8-sig',newline='')))))";
  return JSON.parse(pythonPrints(script, path)) as string[][];
}

describe("the CSV file of sheets", () => {
  it("has a record for every dimension and derived quantity, read alike by Python's csv module", async () => {
    const bundle = bundleOf({
      definition: {
        dimensions: [
          { key: "p", name: "polar axis" },
          { key: "e", name: "equatorial diameter" },
        ],
        derived: [{ key: "pe", name: "P/E", kind: "ratio", of: ["p", "e"] }],
      },
      rows: [
        {
          label: "=1+1",
          note: 'a "note"\nin two lines',
          readings: { p: ["10.0", "30.5", "cal10"], e: ["5.0", "25.5", "cal10"] },
        },
        { label: "Tilia, cordata", struck: "torn", readings: { p: ["10", "30", null] } },
        { label: "empty", readings: {} },
      ],
    });
    const path = join(folder, "sheet.csv");
    await writeCsv([bundle], path, NO_PROGRESS);
    const [headings, ...records] = readByPython(path);
    expect(headings).toEqual([...CSV_COLUMNS]);
    expect(records.every((one) => one.length === CSV_COLUMNS.length)).toBe(true);
    const column = (record: number, name: (typeof CSV_COLUMNS)[number]): string =>
      records[record]?.[CSV_COLUMNS.indexOf(name)] ?? "";
    expect(records.map((_, at) => column(at, "dimension"))).toEqual([
      "polar axis",
      "equatorial diameter",
      "P/E",
      "polar axis",
      "P/E",
      "",
    ]);
    expect(column(0, "label")).toBe("'=1+1");
    expect(column(0, "note")).toBe('a "note"\nin two lines');
    expect([column(0, "left as typed"), column(0, "right as typed")]).toEqual(["10.0", "30.5"]);
    expect(Number(column(2, "derived value"))).toBe(1);
    expect(column(4, "why no size")).toContain("has no size");
    expect(column(3, "struck reason")).toBe("torn");
    const text = readFileSync(path, "utf8");
    expect(text.replaceAll("\r\n", "").includes("\r")).toBe(false);
  });
});
