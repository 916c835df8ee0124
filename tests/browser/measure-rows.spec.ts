import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { TEST_BROWSER } from "../support/test-browser.ts";
import { openMeasureWindow } from "./measure-window.ts";

test.use({
  launchOptions: { ...TEST_BROWSER, ignoreDefaultArgs: ["--hide-scrollbars"] },
  viewport: { width: 1280, height: 800 },
});

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

/** Rows that stand whole between the head and the lower edge of the grid. */
function rowsInSight(page: Page): Promise<number> {
  return page.getByRole("grid").evaluate((grid) => {
    const head = grid.querySelector("thead")?.getBoundingClientRect().bottom ?? 0;
    const box = grid.parentElement;
    const lower = (box?.getBoundingClientRect().top ?? 0) + (box?.clientHeight ?? 0);
    const rows = [...grid.querySelectorAll("tbody tr")].map((row) => row.getBoundingClientRect());
    return rows.filter(({ top, bottom }) => top >= head - 1 && bottom <= lower + 1).length;
  });
}

const activeRow = (page: Page): Promise<number> =>
  page
    .locator("[data-active-cell]")
    .evaluate((cell) => Number(cell.closest("tr")?.getAttribute("aria-rowindex")) - 2);

test("enough rows in sight at 1280×800, a page at a time, and a row found by number, label or flag", async ({
  context,
}) => {
  // Row 40 is shorter than the method's fewest divisions, so that it is flagged.
  const rows = Array.from(
    { length: 80 },
    (_, at) => `Grain ${at + 1}\t10\t${at === 39 ? 12 : 40 + (at % 7)}`,
  );
  const { page, person, window } = await openMeasureWindow(context, program, { rows: rows.join("\n") });
  await page.setViewportSize({ width: 1280, height: 800 });

  await expect.poll(() => rowsInSight(page)).toBeGreaterThanOrEqual(8);
  const normal = await rowsInSight(page);
  await person.press("Control+Home");
  await expect.poll(() => activeRow(page)).toBe(1);
  await person.press("PageDown");
  const paged = (await activeRow(page)) - 1;
  expect(Math.abs(paged - normal)).toBeLessThanOrEqual(2);

  await person.press("Alt+c");
  await expect.poll(() => rowsInSight(page)).toBeGreaterThanOrEqual(12);
  await person.press("Alt+h");
  const folded = await rowsInSight(page);
  await expect.poll(() => rowsInSight(page)).toBeGreaterThanOrEqual(14);
  expect(folded).toBeGreaterThan(normal);
  await expect(page.locator("[data-active-cell]")).toBeFocused();

  await person.press("Control+f");
  await page.keyboard.type("73");
  await person.press("Enter");
  await expect.poll(() => activeRow(page)).toBe(73);
  await expect(page.locator("[data-active-cell]")).toBeFocused();

  await person.press("Control+f");
  await page.keyboard.type("grain 25");
  await person.press("Enter");
  await expect.poll(() => activeRow(page)).toBe(25);

  await person.press("Alt+ArrowDown");
  await expect.poll(() => activeRow(page)).toBe(40);

  // A drag beyond the lower edge goes on, and the rows scroll along.
  await person.press("Control+Home");
  const first = page.locator("[data-row='2'] [data-column='2']");
  await first.hover();
  await page.mouse.down();
  const { x = 0, y = 0, height = 0 } = (await page.getByRole("grid").locator("xpath=..").boundingBox()) ?? {};
  await page.mouse.move(x + 300, y + height + 60, { steps: 4 });
  await expect.poll(() => activeRow(page), { timeout: 20_000 }).toBeGreaterThan(40);
  await page.mouse.up();
  const stopped = await activeRow(page);
  await page.waitForTimeout(300);
  expect(await activeRow(page), "it ends with the drag").toBe(stopped);
  await expect(page.getByText(new RegExp(`^${stopped - 2} rows × \\d+ columns? selected`))).toBeVisible();

  // The choices are kept in this window, and nothing of them touches the record.
  await page.reload();
  await page.getByRole("grid").waitFor();
  await expect.poll(() => rowsInSight(page)).toBeGreaterThanOrEqual(12);
  await person.press("Alt+w");
  await expect(page.locator("nav [aria-current=page]")).toHaveText(/Measure/);
  expect(window.faults).toEqual([]);
});
