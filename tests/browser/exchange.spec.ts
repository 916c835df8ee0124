import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { printedBy, pythonPrints } from "../support/outside-programs.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { savedCopy } from "./saved-copy.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

async function records(page: Page, tab: string): Promise<void> {
  page.setDefaultTimeout(15_000);
  await new KeyboardPerson(page).go("records");
  await page
    .getByRole("button", { name: tab, exact: true })
    .or(page.getByRole("tab", { name: tab, exact: true }))
    .click();
}

test("several sheets become one workbook, which is then found unchanged, and changed once a cell is edited", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  await records(page, "Export and check");
  const boxes = page.getByRole("checkbox");
  await boxes.nth(0).check();
  await boxes.nth(1).check();
  await seenInBothThemes(page, "export");
  await page.getByRole("button", { name: "Export 2 sheets" }).click();
  await expect(page.getByText(/^Written: /)).toBeVisible({ timeout: 60_000 });
  const path = join(program.folder, "came-back.xlsx");
  copyFileSync((await savedCopy(page)).path, path);

  await page.getByLabel("Choose a workbook or a JSON file, or drop it here").setInputFiles(path);
  await expect(page.getByText("came-back.xlsx: unchanged")).toBeVisible({ timeout: 60_000 });
  const script =
    "import openpyxl,sys\nb=openpyxl.load_workbook(sys.argv[1])\ns=[x for x in b.sheetnames if x.startswith('Rows')][0]\nb[s]['E2']=77.5\nb.save(sys.argv[1])";
  pythonPrints(script, path);
  await page.getByLabel("Choose a workbook or a JSON file, or drop it here").setInputFiles(path);
  await expect(page.getByText("came-back.xlsx: changed")).toBeVisible({ timeout: 60_000 });
  await expect(page.getByRole("row", { name: /E2 77\.5/ })).toBeVisible();
  await seenInBothThemes(page, "check");
  expect(faults).toEqual([]);
});

test("an export whose screen was left is told of on another screen, and the line is closed by keyboard", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await records(page, "Export and check");
  await page.getByRole("checkbox").nth(0).check();
  await page.getByRole("checkbox").nth(1).check();
  await page.getByRole("button", { name: "Export 2 sheets" }).click();
  // Left while it is being written, or while its place is being chosen.
  await person.go("count");
  const told = page.getByRole("log", { name: "Finished exports" });
  await expect(told).toContainText(/Written: S-\d+ and 1 more.*\.xlsx/, { timeout: 60_000 });
  await person.go("about");
  await expect(told).toContainText(/Written: /);
  await person.activate(told.getByRole("button", { name: /^Close the line about/ }));
  await expect(told).toBeEmpty();
  expect(faults).toEqual([]);
});

test("a notebook is matched, previewed and taken in as a sheet of its own", async ({ context }) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  await records(page, "Import");
  const path = join(program.folder, "notebook.csv");
  writeFileSync(
    path,
    "taxon,polar left,polar right,remark\nCalluna,10,32.5,\nTilia,x,30,tilted\nBetula,4.0,27.5,\n",
  );
  await page.getByLabel("Choose a CSV, TSV or xlsx file, or drop it here").setInputFiles(path);
  await expect(page.getByText("What the columns of notebook.csv hold")).toBeVisible();
  const left = page.getByLabel("Column 2 holds");
  const option = await left.locator("option", { hasText: "left edge" }).first().getAttribute("value");
  await left.selectOption(option ?? "");
  await page.getByLabel("Column 3 holds").selectOption((option ?? "").replace("left", "right"));
  await page.getByLabel("Column 1 holds").selectOption("label");
  await page.getByRole("button", { name: "Preview" }).click();
  await expect(page.getByText("2 rows with 4 readings")).toBeVisible();
  await expect(page.getByRole("row", { name: /3 2 x/ })).toBeVisible();
  await seenInBothThemes(page, "import");
  await page.getByLabel("Leave this line out").check();
  await page.getByLabel("Sample", { exact: true }).fill("Old notebook 1998");
  await page.getByRole("button", { name: /^Accept 2 rows/ }).click();
  await expect(page.getByText(/was opened with 2 rows/)).toBeVisible();
  expect(faults).toEqual([]);
});

test("the report prints on A4 with its pages counted and the fingerprint of its data at the foot", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  await records(page, "Sheets");
  await page
    .getByRole("button", { name: /^Report of / })
    .last()
    .click();
  const report = page.getByRole("article");
  await expect(report).toBeVisible({ timeout: 30_000 });
  await seenInBothThemes(page, "report");
  const printed = (await report.textContent()) ?? "";
  const digest = /Rows and results([0-9a-f]{64})/.exec(printed)?.[1] ?? "none";
  const path = join(program.folder, "report.pdf");
  writeFileSync(path, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  expect(readFileSync(path).subarray(0, 5).toString()).toBe("%PDF-");
  if (process.env.LINEFALL_PICTURES)
    writeFileSync(join(process.env.LINEFALL_PICTURES, "report.pdf"), readFileSync(path));
  const info = printedBy("pdfinfo", [path]);
  expect(info).toMatch(/Page size:\s+59[45](\.\d+)? x 84[12](\.\d+)? pts \(A4\)/);
  const pages = Number(/Pages:\s+(\d+)/.exec(info)?.[1]);
  const text = printedBy("pdftotext", ["-layout", path, "-"]);
  for (let number = 1; number <= pages; number += 1) expect(text).toContain(`page ${number} of ${pages}`);
  expect(text.split(`rows and results SHA-256 ${digest}`)).toHaveLength(pages + 1);
  for (const part of ["Factors used", "Cautions", "Measured by, date"]) expect(text).toContain(part);
  expect(text).not.toContain("Print or save as PDF");
  expect(faults).toEqual([]);
});
