import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { clipboardText, openMeasureWindow } from "./measure-window.ts";

/** Scans the page with the menu open, in both themes; leaves pictures where a folder is named for them, and the menu open. */
async function seenWithMenu(page: Page, name: string): Promise<void> {
  const folder = process.env.LINEFALL_PICTURES;
  for (const key of ["F8", "F8"]) {
    await page.keyboard.press("Escape");
    await page.keyboard.press(key);
    const theme = (await page.locator("html").getAttribute("data-theme")) ?? "";
    await page.keyboard.press("Shift+F10");
    await expect(page.getByRole("menu")).toBeVisible();
    const { violations } = await new AxeBuilder({ page })
      .withTags(["wcag2a", "wcag2aa", "wcag22aa"])
      .analyze();
    expect(violations.map(({ id, nodes }) => `${name}, ${theme}: ${id}: ${nodes[0]?.html}`)).toEqual([]);
    if (folder !== undefined) await page.screenshot({ path: join(folder, `${name}-${theme}.png`) });
  }
}

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

test("the menu of a cell: by key and by pointer, its acts those of the keys, the focus back in the cell", async ({
  context,
}) => {
  test.slow();
  const { page, person, window } = await openMeasureWindow(context, program, {
    rows: "A1\t10\t40\nA2\t11\t42\nA3\t12\t43",
  });
  const menu = page.getByRole("menu");
  const cell = page.locator("[data-active-cell]");
  const act = (name: RegExp) => menu.getByRole("menuitem", { name });

  await person.press("Control+Home", "ArrowDown", "ArrowRight");
  await seenWithMenu(page, "menu-of-a-row");
  await expect(menu).toHaveAccessibleName("Row 2");
  await expect(menu.getByRole("menuitem").first()).toBeFocused();
  await person.press("Escape");
  await expect(menu).toHaveCount(0);
  await expect(cell).toBeFocused();
  await expect(cell.locator("xpath=..")).toHaveAttribute("aria-rowindex", "4");

  // Letters and arrows go round; none of them reaches the grid below.
  await person.press("ContextMenu", "s");
  await expect(act(/^Strike the row/)).toBeFocused();
  await person.press("ArrowUp");
  await expect(act(/^Copy/)).toBeFocused();
  await person.press("Home", "ArrowUp");
  await expect(act(/^Pictures of the row/)).toBeFocused();
  await person.press("s", "Enter");
  await expect(page.getByRole("dialog", { name: "Strike row 2?" })).toBeVisible();
  await person.press("1");
  await expect(page.locator("tr[data-struck]")).toHaveCount(1);

  // What can't be done stays in its place and does nothing.
  await person.press("Shift+F10");
  await expect(act(/^Strike the row/)).toHaveAttribute("aria-disabled", "true");
  await person.press("s", "Enter");
  await expect(act(/^Strike the row/)).toBeFocused();
  await person.press("u", "Enter");
  await expect(page.locator("tr[data-struck]")).toHaveCount(0);

  // A half-typed reading stays open behind the menu.
  await person.press("Control+End", "Home", "ArrowRight", "ArrowRight");
  await page.keyboard.type("7");
  await person.press("Shift+F10", "Escape");
  await page.keyboard.type("5");
  await expect(cell.locator("input")).toHaveValue("75");
  await person.press("Escape");

  await person.press("Control+Home", "ArrowRight", "Shift+F10", "ArrowDown");
  await expect(act(/^Note on the row/)).toBeFocused();
  await person.press("Enter");
  await page.keyboard.type("seen twice");
  await person.press("Enter");
  await expect(page.getByRole("grid")).toContainText("seen twice");

  // The pointer's button opens it where it stands, and leaves what is selected selected.
  const label = page.getByRole("gridcell", { name: "A3", exact: true });
  await label.click();
  await person.press("Shift+Space");
  await label.click({ button: "right" });
  await act(/^Copy/).click();
  await expect.poll(() => clipboardText(page)).toMatch(/^\S*\s*A3\t12\t43/);
  await label.click({ button: "right" });
  await page.mouse.click(700, 60);
  await expect(menu).toHaveCount(0);

  await label.click();
  await person.press("Control+Home", "Shift+F10", "t", "Enter");
  await page.getByRole("heading", { name: "Traceability of this result" }).first().waitFor();

  await person.go("records");
  await page.getByRole("table", { name: "Sheets" }).waitFor();
  const first = page.getByRole("button", { name: /^Details of S-/ }).first();
  await person.tabTo(first);
  await seenWithMenu(page, "menu-of-a-list");
  await person.press("Escape");
  await expect(first).toBeFocused();
  await person.press("Shift+F10", "r", "Enter");
  await expect(page.getByRole("heading", { name: "Fingerprints" })).toBeVisible();
  expect(window.faults).toEqual([]);
});
