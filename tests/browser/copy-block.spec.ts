import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import {
  clipboardText,
  copy,
  endWithoutFaults,
  type MeasureWindow,
  openMeasureWindow,
  openSheet,
} from "./measure-window.ts";

const ROWS = 5000;
const COLUMN = { label: 2, left: 3, right: 4, size: 6 } as const;

let program: ProgramUnderTest;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

test.beforeAll(async ({ browser }) => {
  program = await startProgram();
  const context = await browser.newContext({ viewport: { width: 1360, height: 900 } });
  measure = await openMeasureWindow(context, program, {
    // Invented inputs; the second label could be a formula.
    rows: Array.from(
      { length: ROWS },
      (_, at) => `${at === 1 ? "=1+1" : `grain ${at + 1}`}\t10,5\t${at + 30}`,
    ).join("\n"),
  });
  ({ page, person } = measure);
});

test.afterAll(async () => {
  await endWithoutFaults(measure.window, program);
  await page.context().close();
});

const said = () => page.getByRole("status", { name: "Selection" });

test("a few cells are copied as they stand, a label that could be a formula as text", async () => {
  await person.press("Control+Home", "ArrowRight");
  await person.press("Shift+ArrowRight", "Shift+ArrowRight", "Shift+ArrowDown", "Shift+ArrowDown");
  expect(await copy(page)).toBe("grain 1\t10,5\t30\n'=1+1\t10,5\t31\ngrain 3\t10,5\t32");
  await expect(said()).toContainText("copied 3 rows × 3 columns");
});

test("whole columns come with headings and units, rows that are not in the window are fetched", async () => {
  await person.press("Control+Home", "ArrowRight", "Control+Space");
  for (let at = 0; at < 4; at += 1) await person.press("Shift+ArrowRight");
  const text = await copy(page);
  const lines = text.split("\n");
  expect(lines).toHaveLength(ROWS + 1);
  expect(lines[0]).toBe(
    "Label\tLength, left edge (div)\tLength, right edge (div)\tLength, divisions (div)\tLength, size ± U (µm)",
  );
  expect(lines[1]).toMatch(/^grain 1\t10,5\t30\t19\.5\t202\.3 ± \d\.\d$/);
  expect(lines[ROWS]).toMatch(/^grain 5000\t10,5\t5029\t5018\.5\t/);
  await expect(said()).toContainText(`copied ${ROWS} rows × 5 columns with headings`);
});

test("sizes come as number and U in two columns where the person wants them so, with the own decimal sign", async () => {
  const status = await callFrom(page, "bench.status", {});
  const wish = (change: object) =>
    callFrom(page, "ownSettings.change", { personId: status.personInUse?.id ?? "", change });
  await wish({ copiedSizes: "number and U", decimalSign: "comma" });
  await page.reload();
  await openSheet(page, person);
  await person.press("Control+Home", "ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight");
  await person.press("Shift+ArrowRight", "Shift+ArrowDown");
  expect(await copy(page)).toMatch(/^(19,5\t202,3\t\d,\d)\n20,5\t\d+,\d\t\d,\d$/);
  await wish({ copiedSizes: "as shown", decimalSign: "point" });
  await page.reload();
  await openSheet(page, person);
});

test("where the window may not write to the clipboard by itself, its copy command does", async () => {
  await page.reload();
  await openSheet(page, person);
  await page.evaluate(() => navigator.clipboard.writeText("nothing copied"));
  await page.evaluate(() => {
    Object.defineProperty(navigator.clipboard, "writeText", {
      value: () => Promise.reject(new Error("denied")),
    });
  });
  await person.press("Control+Home", "ArrowRight", "Control+Space", "Control+c");
  await expect(said()).toContainText(`copied ${ROWS} rows × 1 column with headings`);
  const lines = (await clipboardText(page)).split("\n");
  expect([lines.length, lines[0], lines[ROWS]]).toEqual([ROWS + 1, "Label", "grain 5000"]);
  await page.reload();
  await openSheet(page, person);
});

test("the one cell of the cursor is copied without a selection", async () => {
  await person.press("Control+Home", "ArrowRight", "ArrowRight");
  expect(await copy(page)).toBe("10,5");
});

test("struck rows are left out of a copy of several, and that is said", async () => {
  const { sheetId } = measure.bench;
  const [row] = (await callFrom(page, "rows.page", { sheetId, from: 1, count: 1 })).rows;
  await callFrom(page, "rows.strike", {
    requestId: newRequest(),
    sheetId,
    rowId: row?.id ?? "",
    reason: "broken wall",
  });
  await page.reload();
  await openSheet(page, person);
  await person.press("Control+Home", "ArrowRight", "Shift+ArrowDown", "Shift+ArrowDown");
  expect(await copy(page)).toBe("'=1+1\ngrain 3");
  await expect(said()).toContainText("copied 2 rows × 1 column, without 1 struck");
});

test("what was copied here goes back in as what it was", async () => {
  await person.press("Control+Home", "ArrowDown", "ArrowRight");
  for (let at = 0; at < 4; at += 1) await person.press("Shift+ArrowRight");
  await person.press("Shift+ArrowDown");
  await copy(page);
  await person.press("Control+End", "Control+v");
  const dialog = page.getByRole("dialog");
  const becomes = (column: number) => dialog.getByLabel(`Column ${column} becomes`);
  await expect(becomes(1)).toHaveValue("label");
  await expect(becomes(2)).toHaveValue("length/left/1");
  await expect(becomes(3)).toHaveValue("length/right/1");
  await expect(becomes(5)).toHaveValue("ignored");
  await expect(dialog.getByRole("status").first()).toContainText("2 new rows · 4 readings");
  await person.press("Enter");
  await expect(dialog).toHaveCount(0);
  await person.expectStored(ROWS + 2);
  await person.expectCell(ROWS + 1, COLUMN.label, "=1+1");
  await person.expectCell(ROWS + 2, COLUMN.right, "32");
});
