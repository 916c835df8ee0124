import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

let program: LoopbackProgram;
test.beforeAll(async () => {
  program = await startLoopbackProgram({ demo: true });
});
test.afterAll(() => program.stop());

const chart = (page: Page) => page.getByTestId("trend-chart");
const reader = (page: Page) => page.getByTestId("trend-reader");

/** Opens the history of a train by the button on its card at the bench. */
async function openFromBench(person: KeyboardPerson, name: RegExp, nth = 0): Promise<void> {
  await person.go("bench");
  await person.activate(person.page.getByRole("button", { name }).nth(nth));
  await chart(person.page).waitFor();
}

async function expectAccessible(page: Page): Promise<void> {
  const found = await new AxeBuilder({ page }).analyze();
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
}

test("the drifting and the jumped train of the demo bench are named, read point by point, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const drifting = page.getByRole("article").filter({ hasText: "drifting" });
  await expect(drifting).toHaveCount(1);
  await expect(drifting).toContainText(
    /By \+0\.\d+ % a year over 10 calibrations towards \+2\.0 %, met about/,
  );
  const jumped = page.getByRole("article").filter({ hasText: "jumped" });
  await expect(jumped).toHaveCount(1);
  await expect(jumped).toContainText(/By −1\.\d % /);

  await openFromBench(person, /^Trend of 40×\/0\.65 on Window stand/);
  await expect(page.getByText(/By \+0\.\d+ % a year over 10 calibrations/).first()).toBeVisible();
  await person.tabTo(chart(page));
  await person.press("Home");
  const rows = page.getByRole("table", { name: /^Calibrations of / }).getByRole("row");
  // Newest first under a line of headings: the first point of the chart is the last line of the table.
  const count = (await rows.count()) - 1;
  expect(count).toBe(10);
  for (let at = 0; at < count; at += 1) {
    const cells = rows.nth(count - at).locator("th, td");
    const [date, factor, change] = await cells.allTextContents();
    await expect(reader(page)).toContainText(`${date}: ${factor} µm/div (${change} %)`);
    await person.press("ArrowRight");
  }
  const whole = await page.locator("[data-testid='trend-chart'] svg").innerHTML();
  await person.press("+", "+");
  expect(await page.locator("[data-testid='trend-chart'] svg").innerHTML()).not.toBe(whole);
  await person.press("0");
  await expect(page.locator("[data-testid='trend-chart'] svg")).toHaveJSProperty("innerHTML", whole);
  await person.press("Enter");
  await expect(page.getByRole("heading", { name: /in force/ })).toBeVisible();
  expect(faults).toEqual([]);
});

test("every part of the screen is reached by keys and clean in both themes", async ({ context }) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("trends");
  await chart(page).waitFor();
  await expectAccessible(page);
  for (const heading of ["What they say together", "What they say together", "What they say together"]) {
    await person.press("Alt+PageDown");
    await page.getByRole("heading", { name: heading }).waitFor();
    await expectAccessible(page);
  }
  await person.press("F8");
  await person.press("Alt+PageUp");
  await page.getByRole("heading", { name: "What they say together" }).waitFor();
  await expectAccessible(page);
  await person.go("trends");
  await chart(page).waitFor();
  await expectAccessible(page);
  await person.press("F8");
  expect(faults).toEqual([]);
});

test("which factor was on the bench on a day is answered by one key and the date", async ({ context }) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("trends");
  await chart(page).waitFor();
  await person.press("d");
  await expect(page.getByLabel("On which day?")).toBeFocused();
  const all = await callFrom(page, "calibrations.list", { trainId: null });
  const superseded = all.find((one) => one.state === "superseded" && one.inForceAt !== null);
  const day = superseded?.inForceAt?.slice(0, 10) ?? "";
  await page.keyboard.type(day);
  const table = page.getByRole("table", { name: `Factors in force on ${day}` });
  await expect(table).toContainText(
    `${superseded?.result?.shownFactor} ± ${superseded?.result?.shownUncertainty}`,
  );
  await expect(table).toContainText("FL-D-02");
  await expectAccessible(page);
  expect(faults).toEqual([]);
});
