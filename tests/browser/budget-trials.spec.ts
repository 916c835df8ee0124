import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

test("a budget is checked by simulation while it is typed and in its record, stopped and begun again, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await readyBench(page);
  await page.reload();
  await page.locator("main h1").waitFor();
  const check = page.getByRole("button", { name: "Check by simulation (JCGM 101)" });
  const table = page.getByRole("table", { name: "GUM and simulation compared" });
  const verdict = page.getByText(/^(The GUM interval is (not )?validated|Not decided)/);

  await person.go("calibrate");
  await page.getByLabel("Optical train").waitFor();
  await person.press("Control+Enter");
  await page.getByLabel("Setting 1, reticle left").waitFor();
  await expect(check).toHaveCount(0);
  await person.take("0", "96.4", "0", "25", "0");
  await person.activate(check);
  // The same button stops it: the focus stays where the hand is.
  await expect(page.getByRole("button", { name: "Stop" })).toBeFocused();
  await expect(page.getByRole("progressbar", { name: "Trials done" })).toBeVisible();
  await person.press("Enter");
  await expect(page.getByText(/^Stopped after .* trials: nothing is concluded\.$/)).toBeVisible();
  await expect(check).toBeFocused();
  await person.press("Enter");
  await expect(verdict).toBeVisible({ timeout: 60_000 });
  await expect(table.locator("tbody tr")).toHaveCount(5);
  const [name, ours, theirs] = await table.locator("tbody tr").first().locator("th, td").allTextContents();
  expect(name).toBe("Factor");
  expect(Number(theirs) / Number(ours)).toBeCloseTo(1, 3);
  // Another budget is another question.
  await person.fill("Setting 1, reticle right", "96.6");
  await expect(table).toHaveCount(0);

  await person.go("records");
  const list = page.getByRole("table", { name: "Calibrations, newest first" });
  for (let tabs = 0; tabs < 10 && !(await list.isVisible()); tabs += 1) {
    await person.press("Alt+PageDown");
    await page.getByRole("heading", { level: 2 }).first().waitFor();
  }
  const inForce = list.locator("tbody tr", { hasText: "in force" }).first();
  await person.activate(inForce.getByRole("button").first());
  await person.activate(check);
  await expect(page.getByText("1\u2009000\u2009000 trials, seed 101")).toBeVisible({ timeout: 60_000 });
  // Of this budget 10⁶ trials cannot tell: the same button goes on with more.
  await expect(verdict).toHaveText(/^Not decided/);
  await expect(page.getByRole("button", { name: /^Check again with 10.000.000 trials$/ })).toBeFocused();
  await person.press("Enter");
  await expect(page.getByText("10\u2009000\u2009000 trials, seed 101")).toBeVisible({ timeout: 180_000 });
  await expect(verdict).toBeVisible();
  await page.getByText(/trials, seed 101/).scrollIntoViewIfNeeded();
  await seenInBothThemes(page, "budget-trials");
  expect(faults).toEqual([]);
});
