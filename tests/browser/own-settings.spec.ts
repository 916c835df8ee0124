import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, goToSheet, type MeasureWindow, openMeasureWindow } from "./measure-window.ts";

let program: ProgramUnderTest;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

test.beforeAll(async ({ browser }) => {
  program = await startProgram();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  // Invented inputs.
  measure = await openMeasureWindow(context, program, { rows: "a\t10.5\t42" });
  ({ page, person } = measure);
});

test.afterAll(async () => {
  await endWithoutFaults(measure.window, program);
  await page.context().close();
});

const settings = async () => (await callFrom(page, "ownSettings.read", {}))?.settings;
const COLUMN = { left: 3, right: 4, divisions: 5 } as const;

/** Chooses in a field of a few values as the keyboard does: Tab to it, then type the beginning of the words. */
async function choose(label: string, beginning: string): Promise<void> {
  await person.tabTo(page.locator("main").getByLabel(label, { exact: true }));
  await page.keyboard.type(beginning);
}

test("a decimal comma and the own form of dates, by keyboard: shown everywhere, stored as before", async () => {
  await person.go("settings");
  await choose("Decimal sign", "Comma");
  await choose("Dates", "31.01");
  await expect(page.getByText("Example: 12,5 µm ± 0,4 µm on 31.01.2026")).toBeVisible();
  await expect.poll(settings).toMatchObject({ decimalSign: "comma", dateForm: "31.01.2026" });

  await goToSheet(page, person);
  await person.expectCell(1, COLUMN.left, "10,5");
  await person.expectCell(1, COLUMN.divisions, "31,5");
  // Both marks can be typed.
  await person.press("Control+End", "Home", "ArrowRight", "ArrowRight");
  await person.take("20,5", "51.5");
  await person.expectStored(2);
  await person.expectCell(2, COLUMN.left, "20,5");
  await person.expectCell(2, COLUMN.right, "51,5");
  await person.expectCell(2, COLUMN.divisions, "31");
  const { rows } = await callFrom(page, "rows.page", { sheetId: measure.bench.sheetId, from: 1, count: 9 });
  expect(rows.map((row) => row.measurements[0]?.divisions)).toEqual(["31.5", "31"]);
});

test("a date is typed and read in the own form, and kept as the record has it", async () => {
  await person.go("trends");
  await person.press("d");
  const day = page.getByLabel("On which day?");
  await person.tabTo(day);
  await page.keyboard.press("Control+a");
  await page.keyboard.type("31.1.2026");
  await expect(day).toHaveValue("31.01.2026");
});

test("a key of one's own works at once and the usual one no longer; a taken key is refused in words", async () => {
  await person.go("settings");
  await person.activate(page.getByRole("button", { name: "Change the key of Count", exact: true }));
  const dialog = page.getByRole("dialog");
  await person.press("Alt+3");
  await expect(dialog.getByRole("alert")).toHaveText(/Alt\+3 is the key of “Measure”/);
  await person.press("Alt+J");
  await expect(dialog).toBeHidden();
  await expect.poll(settings).toMatchObject({ keys: { "go.count": ["Alt+J"] } });
  await person.press("Alt+4");
  await expect(page.getByRole("heading", { name: "Settings" })).toBeVisible();
  await person.press("Alt+J");
  await expect(page.getByRole("heading", { name: "Count" }).first()).toBeVisible();
  await expect(page.getByRole("navigation", { name: "Screens" })).toContainText("Alt+J");
  await person.go("settings");
  await person.activate(page.getByRole("button", { name: "Usual key of Count" }));
  await expect.poll(settings).toMatchObject({ keys: {} });
});

test("size of text and theme are there after a reload, paper before printing", async () => {
  await person.go("settings");
  const size = () =>
    page.evaluate(() => Number.parseFloat(getComputedStyle(document.documentElement).fontSize));
  const before = await size();
  await choose("Size of text", "125");
  await expect.poll(size).toBeCloseTo(before * 1.25, 1);
  await choose("Theme", "Light");
  await choose("Paper", "Letter");
  await expect.poll(settings).toMatchObject({ textSize: 125, theme: "light", paper: "Letter" });
  const printed = await page.pdf({ preferCSSPageSize: true });
  // 8.5 × 11 in at 72 points to the inch.
  expect(printed.toString("latin1")).toMatch(/MediaBox \[0 0 612 792\]/);
  await page.reload();
  await expect(page.locator("html")).toHaveAttribute("data-theme", "light");
  await expect.poll(size).toBeCloseTo(before * 1.25, 1);
});

test("another person has settings of their own, and the first finds hers again", async () => {
  const first = (await callFrom(page, "bench.status", {})).personInUse;
  const other = await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name: "Otto Pointlover", initials: "OP", interpupillaryMm: "" },
  });
  await callFrom(page, "people.choose", { personId: other.id });
  await page.reload();
  await person.go("settings");
  await expect(page.getByText("Example: 12.5 µm ± 0.4 µm on 2026-01-31")).toBeVisible();
  await callFrom(page, "people.choose", { personId: first?.id ?? "" });
  await page.reload();
  await person.go("settings");
  await expect(page.getByText("Example: 12,5 µm ± 0,4 µm on 31.01.2026")).toBeVisible();
});

test("a change made in another window reaches this one by itself", async () => {
  const { personInUse } = await callFrom(page, "bench.status", {});
  await callFrom(page, "ownSettings.change", {
    personId: personInUse?.id ?? "",
    change: { theme: "dim", decimalSign: "point" },
  });
  await expect(page.locator("html")).toHaveAttribute("data-theme", "dim", { timeout: 15_000 });
  await expect(page.getByText("Example: 12.5 µm ± 0.4 µm on 31.01.2026")).toBeVisible();
});
