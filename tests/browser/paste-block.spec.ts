import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, type MeasureWindow, openMeasureWindow, paste } from "./measure-window.ts";

const COLUMN = { label: 2, left: 3, right: 4, divisions: 5, size: 6 } as const;

let program: ProgramUnderTest;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test.beforeEach(async ({ context }) => {
  test.slow();
  program = await startProgram();
  measure = await openMeasureWindow(context, program);
  ({ page, person } = measure);
});

test.afterEach(() => endWithoutFaults(measure.window, program));

const dialog = () => page.getByRole("dialog");
const takeIn = () => dialog().locator("[data-take-in]");
const told = () => dialog().getByRole("status").first();
const stored = async () =>
  (await callFrom(page, "sheets.get", { sheetId: measure.bench.sheetId })).sheet.rowCount;
const rows = async (from = 1) =>
  (await callFrom(page, "rows.page", { sheetId: measure.bench.sheetId, from, count: 50 })).rows;
const remark = (words: string) => page.getByRole("status").filter({ hasText: words });

const LINES = 10_000;
const BAD = Array.from({ length: 12 }, (_, at) => at * 800 + 3);

/** Labels and two edges; the right edge of every line at `BAD` holds a word. Invented inputs. */
function block(): string {
  return Array.from({ length: LINES }, (_, at) => {
    const right = BAD.includes(at) ? "smudged" : (40 + (at % 300) / 10).toFixed(1);
    return `grain ${at + 1}\t${at % 20}\t${right}`;
  }).join("\r\n");
}

test("10,000 rows with 12 bad cells: nothing goes in before they are dealt with, then all at once, and one undo takes it back", async () => {
  await paste(page, block());
  await expect(dialog()).toContainText("Paste 10000 lines of cells");
  await expect(told()).toContainText("10000 new rows · 19988 readings", { timeout: 60_000 });
  await expect(told()).toContainText("12 cells cannot be taken in");
  await expect(dialog().getByLabel("Column 3 becomes")).toHaveValue("length/right/1");
  const problems = dialog().getByRole("table", { name: /Cells that cannot be taken in/ });
  await expect(problems.locator("tbody tr")).toHaveCount(12);
  await expect(problems.locator("tbody tr").first()).toContainText("not part of a number");

  // The button leads to the first of them; nothing is stored.
  await expect(takeIn()).toBeFocused();
  await person.press("Enter");
  const first = page.getByLabel("Line 4, column 3, Length, right edge (div), correction");
  await expect(first).toBeFocused();
  const bottom = (await first.boundingBox()) ?? { y: 0, height: 0 };
  const answer = await dialog().locator("footer").boundingBox();
  expect(bottom.y + bottom.height, "what has the focus is not hidden by the answer below").toBeLessThan(
    answer?.y ?? 0,
  );
  expect(await stored()).toBe(0);

  // Four are corrected, each Enter leads on to the next; four cells and four lines are left out.
  for (let at = 0; at < 4; at += 1) {
    await person.press("Control+a");
    await person.take(`41,${at}`);
  }
  await expect(told()).toContainText("8 cells cannot be taken in");
  for (const line of BAD.slice(4, 8).map((at) => at + 1)) {
    await person.activate(
      page.getByRole("button", {
        name: `Leave cell out: Line ${line}, column 3, Length, right edge (div)`,
      }),
    );
  }
  for (const line of BAD.slice(8).map((at) => at + 1)) {
    await person.activate(page.getByRole("button", { name: `Leave line out: line ${line}`, exact: true }));
  }
  await expect(told()).toContainText(
    "9996 new rows · 19988 readings · 16 cells left out. Every cell can be taken in.",
  );
  expect(await stored(), "before the answer nothing is stored").toBe(0);

  await person.press("Control+Enter");
  await expect(dialog()).toHaveCount(0, { timeout: 120_000 });
  await expect(remark("9996 rows taken in from the paste.")).toBeVisible();
  await person.expectStored(9996);
  const taken = await rows();
  expect(taken[3]).toMatchObject({ label: "grain 4", measurements: [{ left: "3", right: "41,0" }] });
  expect((await rows(3204))[0]).toMatchObject({ measurements: [{ left: "3", right: null, size: null }] });
  // The cursor stands at the next specimen, in sight, the rows above it are there.
  await expect(person.cell(9997, COLUMN.left)).toBeFocused();
  await expect(person.cell(9996, COLUMN.label)).toHaveText("grain 10000");

  await page.getByRole("button", { name: "Undo" }).click();
  await expect(remark("Taken back: a pasted block of 9996 rows")).toBeVisible({ timeout: 120_000 });
  await expect(page.getByRole("button", { name: "Undo" }), "it was taken back").toBeHidden();
  await person.expectStored(0);
  expect(await stored()).toBe(0);
});

test("a column of divisions from a notebook becomes new rows, their labels run on, each with its size", async () => {
  await page.keyboard.type("Tilia 7");
  await person.press("Enter");
  await person.take("23.0", "51.5");
  await person.expectStored(1);
  await paste(page, "20.5\r\n21\r\n22,5\r\n");
  await expect(dialog().getByLabel("Column 1 becomes")).toHaveValue("length/direct/1");
  await expect(dialog().getByLabel("Label of the first new row")).toHaveValue("Tilia 8");
  await expect(told()).toContainText("3 new rows · 3 readings. Every cell can be taken in.");
  await person.press("Enter");
  await expect(dialog()).toHaveCount(0);
  await person.expectStored(4);
  expect((await rows()).slice(1).map((row) => [row.label, row.measurements[0]?.direct])).toEqual([
    ["Tilia 8", "20.5"],
    ["Tilia 9", "21"],
    ["Tilia 10", "22,5"],
  ]);
  await person.expectCell(2, COLUMN.size, /^212\.7 ± /);
  await expect(person.cell(5, COLUMN.left)).toBeFocused();
});

test("a block goes into the rows from the cursor on when the cursor stands on one, as an amendment", async () => {
  await person.take("10", "30", "10", "31");
  await person.expectStored(2);
  await person.press("Control+Home", "ArrowRight", "ArrowRight", "ArrowRight");
  await paste(page, "35\n36\n37");
  await expect(dialog().getByRole("radio", { name: /into the rows from row 1 on/ })).toBeChecked();
  await expect(dialog().getByLabel("Column 1 becomes")).toHaveValue("length/right/1");
  await expect(told()).toContainText("1 new row, 2 rows changed");
  await person.press("Enter");
  await person.expectCell(2, COLUMN.right, "36");
  await person.expectStored(3);
  await expect(person.cell(1, COLUMN.right)).toBeFocused();
});

test("one pasted cell stands in the editor until Enter; Escape or Paste nothing leave everything as it was", async () => {
  await paste(page, "41.5\r\n");
  await expect(person.cell(1, COLUMN.left).getByRole("textbox")).toHaveValue("41.5");
  await person.press("Enter");
  await person.expectCell(1, COLUMN.left, "41.5");
  await person.expectStored(1);
  await paste(page, "1\t2\n3\t4");
  await expect(dialog()).toBeVisible();
  await person.press("Escape");
  await expect(dialog()).toHaveCount(0);
  await expect(person.cell(1, COLUMN.right)).toBeFocused();
  expect(await stored()).toBe(1);
});

test("columns that do not go together are said at the column, and half-typed text is still there", async () => {
  await page.keyboard.type("4");
  await paste(page, "1\t2\n3\t4");
  await dialog().getByLabel("Column 2 becomes").selectOption("length/left/1");
  await expect(dialog().getByText("Column 2 becomes the same as column 1")).toBeVisible();
  await person.press("Escape");
  await expect(person.cell(1, COLUMN.left)).toHaveAttribute("data-status", "half-typed");
});

test("Ctrl+Enter in the field of the last correction takes it and then everything in", async () => {
  await paste(page, "A\t1\t22\nB\t2\tsmudged\nC\t3\t24\nD\t4\t25");
  await expect(told()).toContainText("1 cell cannot be taken in");
  await person.press("Enter", "Control+a");
  await page.keyboard.type("23.5");
  await person.press("Control+Enter");
  await expect(dialog()).toHaveCount(0);
  await person.expectStored(4);
  expect((await rows())[1]).toMatchObject({ label: "B", measurements: [{ right: "23.5" }] });
});

test("on a closed sheet the preview asks for the reason, and nothing of the paste is lost over it", async () => {
  const { sheetId } = measure.bench;
  await person.take("10", "30");
  await person.expectStored(1);
  await callFrom(page, "sheets.close", { requestId: newRequest(), sheetId, words: "" });
  await paste(page, "A\t1\t22\nB\t2\t23");
  await expect(told()).toContainText("2 new rows");
  await person.press("Enter");
  await expect(dialog().getByRole("alert")).toContainText("a change asks for its reason");
  expect(await stored()).toBe(1);
  await person.tabTo(dialog().getByLabel("Reason for changes"));
  await page.keyboard.type("two rows were overlooked");
  await person.press("Control+Enter");
  await expect(dialog()).toHaveCount(0);
  await person.expectStored(3);
});

test("the dialog is accessible in both themes", async () => {
  for (const theme of ["dim", "light"]) {
    const html = page.locator("html");
    if ((await html.getAttribute("data-theme")) !== theme) await person.press("F8");
    await expect(html).toHaveAttribute("data-theme", theme);
    await paste(page, "label\tleft\tright\nA\t1\t22\nB\t2\tsmudged\nC\tx\t24");
    await expect(told()).toContainText("2 cells cannot be taken in");
    const { violations } = await new AxeBuilder({ page })
      .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"])
      .analyze();
    expect(
      violations
        .filter(({ impact }) => impact === "serious" || impact === "critical")
        .map(({ id, nodes }) => `${theme}: ${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`),
    ).toEqual([]);
    await person.press("Escape");
  }
});
