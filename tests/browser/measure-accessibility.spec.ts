import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, type MeasureWindow, openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  measure = await openMeasureWindow(context, program);
  ({ page, person } = measure);
});

test.afterEach(() => endWithoutFaults(measure.window, program));

/** Two rows, the second flagged: too few divisions. */
async function measureTwo(): Promise<void> {
  await page.keyboard.type("Tilia 1\n");
  await person.take("10", "45");
  await page.keyboard.type("Tilia 2\n");
  await person.take("10", "13");
  await person.expectStored(2);
}

/** Elements of the sheet at work that stick out of the window or of the place they stand in, cut off or not. */
async function cutOff(): Promise<readonly string[]> {
  return page.evaluate(() => {
    const main = document.querySelector("main");
    const box = main?.getBoundingClientRect();
    if (!main || !box) return ["there is no screen"];
    const found: string[] = [];
    if (main.scrollHeight > main.clientHeight + 1) found.push(`main is ${main.scrollHeight} px high`);
    for (const part of main.querySelectorAll("section > *, [role=grid], h1")) {
      const { left, right, bottom, width } = part.getBoundingClientRect();
      // Rows are scrolled; of the keys those that fit one line are shown, all are in the key map.
      const isSeen =
        width > 1 && part.closest("[class*=scroller], [class*=hidden], [aria-label=Keys]") === null;
      if (isSeen && (left < box.left - 1 || right > box.right + 1 || bottom > box.bottom + 1)) {
        found.push(`${part.tagName} ${part.className} ${part.textContent?.slice(0, 40)}`);
      }
    }
    return found;
  });
}

const DIALOGS = [
  ["Alt+e", /flags and history/],
  ["Alt+v", "View and breaks"],
  ["Alt+s", "Sound"],
] as const;

/** What axe calls serious or critical on the page as it stands. */
async function seriousProblems(): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
}

test("the sheet at work, its flags explained, its statistics and its choices, in both themes", async () => {
  test.slow();
  await measureTwo();
  await seenInBothThemes(page, "measure-flags");
  await person.press("F6");
  await expect(page.getByRole("complementary", { name: "Statistics so far" })).toBeVisible();
  await seenInBothThemes(page, "measure-panel");
  // A dialog keeps the key of the theme from the screen behind it: each is opened in either theme.
  for (const theme of ["dim", "light"]) {
    await expect(page.locator("html")).toHaveAttribute("data-theme", theme);
    for (const [key, title] of DIALOGS) {
      await person.press(key);
      await expect(page.getByRole("dialog", { name: title })).toBeVisible();
      expect(await seriousProblems()).toEqual([]);
      await person.press("Escape");
    }
    await person.press("F8");
  }
});

test("the choice of a sheet and the form that defines a method, in both themes", async () => {
  test.slow();
  await person.go("bench");
  await person.go("measure");
  await page.getByRole("heading", { name: "Open a new sheet" }).waitFor();
  await seenInBothThemes(page, "measure-choice");
  await person.go("registers");
  await person.activate(page.getByRole("navigation", { name: "Registers" }).getByText("Methods"));
  await person.press("Alt+n");
  await page.getByRole("form").first().waitFor();
  await seenInBothThemes(page, "method-form");
});

for (const [width, height] of [
  [1024, 600],
  [800, 600],
] as const) {
  test(`a second screen of ${width} by ${height} shows the row at work, its result at 40 px and nothing cut off`, async () => {
    await page.setViewportSize({ width, height });
    await measureTwo();
    expect(await cutOff()).toEqual([]);
    const digits = page.getByRole("region", { name: "Last result" }).getByText(/^31\./);
    const size = await digits.evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    expect(size).toBeGreaterThanOrEqual(40);
    await expect(digits).toBeInViewport({ ratio: 1 });
    await expect(person.cell(3, 3)).toBeFocused();
    await expect(person.cell(3, 3)).toBeInViewport({ ratio: 1 });
    await expect(person.cell(2, 3)).toBeInViewport({ ratio: 1 });
    const explained = page.getByRole("region", { name: "Flags and history of this row" });
    await expect(explained.getByText("few divisions.", { exact: true })).toBeInViewport({ ratio: 1 });
    expect(await seriousProblems()).toEqual([]);
  });
}

test("the grid is a grid to a screen reader, and each result is announced politely", async () => {
  const grid = page.getByRole("grid", { name: /^Readings of sheet S-0001/ });
  await measureTwo();
  await expect(grid).toHaveAttribute("aria-rowcount", "5");
  await expect(grid).toHaveAttribute("aria-colcount", "9");
  for (const row of [1, 2, 3]) {
    await expect(grid.locator(`[data-row="${row - 1}"]`)).toHaveAttribute("aria-rowindex", String(row + 2));
  }
  await expect(grid.getByRole("columnheader")).toHaveCount(9 + 3);
  await expect(grid.getByRole("separator")).toHaveCount(9);
  await expect(grid.locator("[tabindex='0']")).toHaveCount(1);
  const result = page.getByRole("region", { name: "Last result" });
  await expect(result).toHaveAttribute("aria-live", "polite");
  await expect(result).toContainText(/Row 2 · Tilia 2 · Length.*31\./);
  await expect(result).toContainText("few divisions");
});
