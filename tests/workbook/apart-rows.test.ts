import { expect, it } from "vitest";
import { sheetReport } from "#main/exchange/sheet-report.ts";
import { dimensionCells } from "#main/workbook/sheet-book/row-columns.ts";
import { jobOf } from "#main/workbook/sheet-book/workbook.ts";
import { bundleOf, type ExampleRow } from "./example-bundle.ts";

/** Thirty values of 12 to 14 div, numbered, one of 28.5 div, and a struck one as large. Invented. */
const row = (label: string, right: string, struck?: string): ExampleRow => ({
  label,
  readings: { d: ["10", right, "cal10"] },
  ...(struck === undefined ? {} : { struck }),
});
const ROWS = [
  ...Array.from({ length: 30 }, (_, at) => row(`Tilia ${at + 1}`, (22 + (at % 21) / 10).toFixed(1))),
  row("Tilia 31", "38.5"),
  row("Tilia 32", "38.6", "two grains"),
];

it("names a value apart from the rest of its label before anything else, in the report and on its row", async () => {
  const bundle = bundleOf({ rows: ROWS });
  const job = await jobOf(bundle, { kind: "live" });
  expect(job.survey.apart.rows).toMatchObject([{ ordinal: 31, label: "Tilia 31", dimension: "d" }]);
  expect(sheetReport(job).cautions[0]).toMatch(
    /^Apart from the rest of their label .*: row 31 \(Tilia 31, diameter: 29\d\.\d µm\)\.$/,
  );
  const flagsOf = (at: number): unknown => {
    const one = [...bundle.rows()][at];
    return one && dimensionCells(one, "d", 0, at + 2, job)[job.layout.keys.indexOf("flags")]?.value;
  };
  expect([flagsOf(29), flagsOf(30), flagsOf(31)]).toEqual([null, "outside-sheet", null]);
});

it("says nothing of it where nothing lies apart", async () => {
  const job = await jobOf(bundleOf({ rows: ROWS.slice(0, 30) }), { kind: "live" });
  expect(job.survey.apart.rows).toEqual([]);
  expect(sheetReport(job).cautions.join()).not.toContain("Apart from the rest");
});
