import { expect, it } from "vitest";
import { sheetReport } from "#main/exchange/sheet-report.ts";
import { conformityCells, conformityColumns } from "#main/workbook/sheet-book/conformity-lines.ts";
import { jobOf } from "#main/workbook/sheet-book/workbook.ts";
import { bundleOf } from "./example-bundle.ts";

/** Limits of 200 to 300 µm by guarded acceptance: 201 µm is within them and not by its U. Invented. */
const EXAMPLE = {
  definition: {
    limits: [{ of: "d", lower: "200", upper: "300,0", rule: "guarded-acceptance" as const }],
  },
  rows: [
    { label: "", readings: { d: ["10", "35", "cal10"] as const } },
    { label: "", readings: { d: ["10", "29.4", "cal10"] as const } },
    { label: "", readings: { d: ["10", "45", "cal10"] as const } },
    { label: "", struck: "torn", readings: { d: ["10", "90", "cal10"] as const } },
    { label: "", readings: { d: ["10", "30", null] as const } },
  ],
};

it("says of each limit its rule, how many specimens conform and which do not, how many are undecided; struck rows do not count", async () => {
  const job = await jobOf(bundleOf(EXAMPLE), { kind: "live" });
  expect(sheetReport(job).conformity).toEqual([
    expect.stringMatching(
      /^diameter, from 200 to 300,0 µm, by guarded acceptance with w = U \(JCGM 106:2012 8\.3\): .*: 1 of 3 specimens conform \(each with a probability of at least 9\d\.\d %\); 2 do not: rows 2, 3; 1 specimen without a value undecided\.$/,
    ),
  ]);
});

it("stands on every row of the workbook as a formula of the value and its U", async () => {
  const bundle = bundleOf(EXAMPLE);
  const job = await jobOf(bundle, { kind: "live" });
  expect(conformityColumns(job).map(({ header }) => header)).toEqual(["diameter: conformity"]);
  const cells = [...bundle.rows()].map((row, at) => conformityCells(row, at + 2, job)[0]);
  expect(cells.map((cell) => cell?.value)).toEqual([
    "conforms",
    "does not conform",
    "does not conform",
    null,
    null,
  ]);
  expect(cells[0]).toMatchObject({
    formula: expect.stringMatching(
      /^IF\(AND\(([A-Z]+2)>=200\+([A-Z]+2),\1<=300-\2\),"conforms","does not conform"\)$/,
    ),
  });
});

it("is not there for a method without limits, whose fingerprint stays what it was", async () => {
  const plain = bundleOf({ rows: EXAMPLE.rows });
  expect("limits" in plain.method.definition).toBe(false);
  expect(sheetReport(await jobOf(plain, { kind: "live" })).conformity).toEqual([]);
});
