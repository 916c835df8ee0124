import { expect, test } from "@playwright/test";
import { CASE_GRADES } from "#core/selftest/reference-case.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { clipboardText } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
let window: BenchWindow;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
});
test.afterEach(async () => {
  // What the window says once its program is gone is no fault.
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

test("the self-test shows the standing of every case in a column of its own, uncut, and counts them", async () => {
  const { page } = window;
  const person = new KeyboardPerson(page);
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("about");
  await person.activate(page.getByRole("button", { name: "Self-test", exact: true }));
  await person.activate(page.getByRole("button", { name: "Run the self-test" }));
  const table = page.getByRole("table", { name: "Reference cases" });
  await table.waitFor({ timeout: 60_000 });
  const place = await table
    .locator("thead th")
    .allTextContents()
    .then((titles) => titles.indexOf("Standing"));
  expect(place).toBeGreaterThan(0);
  const cells = await table.locator(`tbody tr > :nth-child(${place + 1})`).evaluateAll((all) =>
    all.map((cell) => {
      const box = cell.getBoundingClientRect();
      const shown = cell.closest("section")?.getBoundingClientRect();
      const isInSight = shown !== undefined && box.left >= shown.left && box.right <= shown.right;
      return { words: cell.textContent ?? "", isWhole: cell.scrollWidth <= cell.clientWidth && isInSight };
    }),
  );
  expect(cells.length).toBeGreaterThan(500);
  expect(cells.filter(({ isWhole }) => !isWhole)).toEqual([]);
  expect(new Set(cells.map(({ words }) => words))).toEqual(new Set(CASE_GRADES));
  const counted = page.getByRole("status").filter({ hasText: "disagree" });
  for (const standing of CASE_GRADES) {
    const n = cells.filter(({ words }) => words === standing).length;
    await expect(counted).toContainText(`${standing}: ${n}`);
  }
});

test("the bench's file is checked page by page when asked, and it is said that it is whole", async () => {
  const { page } = window;
  const person = new KeyboardPerson(page);
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("about");
  await person.activate(page.getByRole("button", { name: "Check the file now" }));
  await expect(page.getByText("The file is whole.")).toBeVisible({ timeout: 60_000 });
});

test("the fault report is copied by keyboard: version and system, and no folder", async ({ context }) => {
  const { page } = window;
  // For the other program that reads what was copied.
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  const person = new KeyboardPerson(page);
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("about");
  await person.activate(page.getByRole("button", { name: "Copy the report" }));
  await expect(page.getByText("The report is on the clipboard.")).toBeVisible();
  const report = await clipboardText(page);
  expect(report).toMatch(/^Linefall \d+\.\d+\.\d+, /);
  expect(report).toContain(await page.evaluate(() => navigator.userAgent));
  expect(report).toContain("0 faults");
  expect(report).not.toContain("/tmp/");
});
