import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, type MeasureWindow, openMeasureWindow } from "./measure-window.ts";

/**
 * The keys of a data grid, a test for each line of the table. Source: W3C, ARIA Authoring Practices Guide, Grid Pattern
 * (github.com/w3c/aria-practices, content/patterns/grid/grid-pattern.html, read at commit 0400fe5), sections “Keyboard
 * Interaction For Data Grids” and “Editing and Navigating Inside a Cell”. Where Measure differs, the line says why.
 */

const ROWS = 60;
const COLUMN = { row: 1, label: 2, left: 3, right: 4, divisions: 5, note: 9 } as const;
const LAST_COLUMN = COLUMN.note;
/** The blank row of the next specimen is the last row of the grid. */
const LAST_ROW = ROWS + 1;

let program: ProgramUnderTest;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });
test.describe.configure({ mode: "serial" });

test.beforeAll(async ({ browser }) => {
  program = await startProgram();
  const context = await browser.newContext({ viewport: { width: 1360, height: 900 } });
  measure = await openMeasureWindow(context, program, {
    rows: Array.from({ length: ROWS }, (_, at) => `grain ${at + 1}\t${at}\t${at + 30}`).join("\n"),
  });
  ({ page, person } = measure);
});

test.afterAll(async () => {
  await endWithoutFaults(measure.window, program);
  await page.context().close();
});

/** The cursor goes to a cell by keys alone. */
async function stand(row: number, column: number): Promise<void> {
  await person.press("Escape", "Escape", "Control+Home");
  for (let at = 1; at < row; at += 1) await person.press("ArrowDown");
  for (let at = 1; at < column; at += 1) await person.press("ArrowRight");
  await expect(person.cell(row, column)).toBeFocused();
}

const editorAt = (row: number, column: number) => person.cell(row, column).getByRole("textbox");
const selected = () => page.getByRole("grid").locator("td[aria-selected=true], th[aria-selected=true]");
const said = () => page.getByRole("status", { name: "Selection" });

interface Line {
  /** As the guide names the key. */
  readonly key: string;
  readonly does: string;
  readonly check: () => Promise<void>;
}

const MOVING: readonly Line[] = [
  {
    key: "Right Arrow",
    does: "moves focus one cell to the right; on the right-most cell it does not move",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("ArrowRight");
      await expect(person.cell(2, COLUMN.right)).toBeFocused();
      await person.press("End", "ArrowRight");
      await expect(person.cell(2, LAST_COLUMN)).toBeFocused();
    },
  },
  {
    key: "Left Arrow",
    does: "moves focus one cell to the left; on the left-most cell it does not move",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("ArrowLeft");
      await expect(person.cell(2, COLUMN.label)).toBeFocused();
      await person.press("Home", "ArrowLeft");
      await expect(person.cell(2, COLUMN.row)).toBeFocused();
    },
  },
  {
    key: "Down Arrow",
    does: "moves focus one cell down; on the bottom cell it does not move",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("ArrowDown");
      await expect(person.cell(3, COLUMN.left)).toBeFocused();
      await person.press("Control+End", "ArrowDown");
      await expect(person.cell(LAST_ROW, LAST_COLUMN)).toBeFocused();
    },
  },
  {
    key: "Up Arrow",
    does: "moves focus one cell up; on the top cell it does not move",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("ArrowUp", "ArrowUp");
      await expect(person.cell(1, COLUMN.left)).toBeFocused();
    },
  },
  {
    key: "Page Down",
    does: "moves focus down a screen of rows; in the last row it does not move",
    check: async () => {
      await stand(1, COLUMN.left);
      await person.press("PageDown");
      const row = Number(await page.locator("[data-current]").getAttribute("data-row")) + 1;
      expect(row).toBeGreaterThan(3);
      await expect(person.cell(row, COLUMN.left)).toBeFocused();
      await expect(person.cell(row, COLUMN.left)).toBeInViewport();
      await person.press("Control+End", "PageDown");
      await expect(person.cell(LAST_ROW, LAST_COLUMN)).toBeFocused();
    },
  },
  {
    key: "Page Up",
    does: "moves focus up a screen of rows; in the first row it does not move",
    check: async () => {
      await stand(1, COLUMN.left);
      await person.press("PageDown", "PageUp");
      await expect(person.cell(1, COLUMN.left)).toBeFocused();
      await person.press("PageUp");
      await expect(person.cell(1, COLUMN.left)).toBeFocused();
    },
  },
  {
    key: "Home",
    does: "moves focus to the first cell of the row",
    check: async () => {
      await stand(3, COLUMN.right);
      await person.press("Home");
      await expect(person.cell(3, COLUMN.row)).toBeFocused();
    },
  },
  {
    key: "End",
    does: "moves focus to the last cell of the row",
    check: async () => {
      await stand(3, COLUMN.left);
      await person.press("End");
      await expect(person.cell(3, LAST_COLUMN)).toBeFocused();
    },
  },
  {
    key: "Control + Home",
    does: "moves focus to the first cell in the first row",
    check: async () => {
      await stand(3, COLUMN.left);
      await person.press("Control+Home");
      await expect(person.cell(1, COLUMN.row)).toBeFocused();
    },
  },
  {
    key: "Control + End",
    does: "moves focus to the last cell in the last row, fetched or not",
    check: async () => {
      await stand(3, COLUMN.left);
      await person.press("Control+End");
      await expect(person.cell(LAST_ROW, LAST_COLUMN)).toBeFocused();
      await expect(person.cell(LAST_ROW, LAST_COLUMN)).toBeInViewport();
    },
  },
];

const SELECTING: readonly Line[] = [
  {
    key: "Control + Space",
    does: "selects the column that contains the focus: all its cells have aria-selected",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Control+Space");
      await expect(said()).toHaveText(`1 column of ${ROWS} rows selected`);
      const columns = await selected().evaluateAll((cells) =>
        cells.map((cell) => cell.getAttribute("aria-colindex")),
      );
      expect(new Set(columns)).toEqual(new Set([String(COLUMN.left)]));
      await expect(person.cell(1, COLUMN.left)).toHaveAttribute("aria-selected", "true");
      await expect(person.cell(2, COLUMN.left)).toBeFocused();
    },
  },
  {
    key: "Shift + Space",
    does: "selects the row that contains the focus",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Shift+Space");
      await expect(said()).toHaveText("1 row selected");
      await expect(selected()).toHaveCount(LAST_COLUMN);
      await expect(page.locator("tr[aria-selected=true]")).toHaveAttribute("data-row", "1");
      for (let at = 0; at < 11; at += 1) await person.press("Shift+ArrowDown");
      await expect(said()).toHaveText("12 rows selected");
    },
  },
  {
    key: "Control + A",
    does: "selects all cells; the blank row of the next specimen holds none",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Control+a");
      await expect(said()).toHaveText(`All ${ROWS} rows selected`);
      await expect(person.cell(1, COLUMN.row)).toHaveAttribute("aria-selected", "true");
      await expect(person.cell(2, COLUMN.left)).toBeFocused();
    },
  },
  {
    key: "Shift + Right Arrow",
    does: "extends the selection one cell to the right",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Shift+ArrowRight");
      await expect(said()).toHaveText("1 row × 2 columns selected");
      await expect(selected()).toHaveCount(2);
      await expect(person.cell(2, COLUMN.right)).toBeFocused();
    },
  },
  {
    key: "Shift + Left Arrow",
    does: "extends the selection one cell to the left",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Shift+ArrowLeft");
      await expect(selected()).toHaveCount(2);
      await expect(person.cell(2, COLUMN.label)).toHaveAttribute("aria-selected", "true");
    },
  },
  {
    key: "Shift + Down Arrow",
    does: "extends the selection one cell down",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Shift+ArrowDown", "Shift+ArrowDown");
      await expect(said()).toHaveText("3 rows × 1 column selected");
      await expect(selected()).toHaveCount(3);
    },
  },
  {
    key: "Shift + Up Arrow",
    does: "extends the selection one cell up; a movement without Shift ends it",
    check: async () => {
      await stand(3, COLUMN.left);
      await person.press("Shift+ArrowUp");
      await expect(selected()).toHaveCount(2);
      await person.press("ArrowUp");
      await expect(selected()).toHaveCount(0);
      await expect(said()).toHaveText("");
    },
  },
];

const EDITING: readonly Line[] = [
  {
    // On a reading that is still empty Enter opens nothing and says so: at the eyepiece a second Enter is a slip.
    key: "Enter",
    does: "places focus in an input field; Enter again moves on to a neighbouring cell",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("Enter");
      await expect(editorAt(2, COLUMN.left)).toBeFocused();
      await expect(editorAt(2, COLUMN.left)).toHaveValue("1");
      await person.press("Escape");
      await stand(2, COLUMN.label);
      await person.press("Enter", "Enter");
      await expect(page.getByRole("grid").getByRole("textbox")).toHaveCount(0);
      await expect(person.cell(3, COLUMN.left)).toBeFocused();
      await person.press("Control+End", "Home", "ArrowRight", "ArrowRight", "Enter");
      await expect(person.cell(LAST_ROW, COLUMN.left)).toBeFocused();
      await expect(page.getByText("Nothing is typed yet").first()).toBeVisible();
    },
  },
  {
    // The guide lets the second F2 leave the field; here the field stays open and the arrows move between cells again,
    // taking what is typed with them, so that a reading under way is never put down unseen.
    key: "F2",
    does: "places focus in an input field; F2 again restores grid navigation",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("F2", "ArrowLeft");
      await expect(editorAt(2, COLUMN.left)).toBeFocused();
      await person.press("F2", "ArrowDown");
      await expect(person.cell(3, COLUMN.left)).toBeFocused();
      await expect(page.getByRole("grid").getByRole("textbox")).toHaveCount(0);
    },
  },
  {
    // A letter is no part of a reading: from there it begins the label of the row.
    key: "Alphanumeric keys",
    does: "place focus in an input field that holds the character",
    check: async () => {
      await stand(2, COLUMN.left);
      await page.keyboard.type("7");
      await expect(editorAt(2, COLUMN.left)).toBeFocused();
      await expect(editorAt(2, COLUMN.left)).toHaveValue("7");
      await person.press("Escape");
      await stand(2, COLUMN.note);
      await page.keyboard.type("x9");
      await expect(editorAt(2, COLUMN.note)).toHaveValue("x9");
      await person.press("Escape");
      await stand(2, COLUMN.left);
      await page.keyboard.type("T");
      await expect(editorAt(2, COLUMN.label)).toBeFocused();
      await expect(editorAt(2, COLUMN.label)).toHaveValue("T");
      await person.press("Escape");
    },
  },
  {
    key: "Escape",
    does: "restores grid navigation and undoes the edit",
    check: async () => {
      await stand(2, COLUMN.left);
      await page.keyboard.type("77");
      await person.press("Escape");
      await expect(person.cell(2, COLUMN.left)).toBeFocused();
      await expect(person.cell(2, COLUMN.left)).toHaveText("1");
      await person.press("ArrowRight");
      await expect(person.cell(2, COLUMN.right)).toBeFocused();
    },
  },
  {
    key: "Arrows while grid navigation is disabled",
    does: "are passed to the input field",
    check: async () => {
      await stand(12, COLUMN.right);
      await person.press("F2", "ArrowLeft");
      const caret = await editorAt(12, COLUMN.right).evaluate(
        (field) => (field as HTMLInputElement).selectionStart,
      );
      expect(caret).toBe("41".length - 1);
      await person.press("Shift+ArrowLeft");
      const marked = await editorAt(12, COLUMN.right).evaluate((field) => {
        const { selectionStart, selectionEnd } = field as HTMLInputElement;
        return [selectionStart, selectionEnd];
      });
      expect(marked).toEqual([0, 1]);
      await expect(selected()).toHaveCount(0);
      await person.press("Escape");
    },
  },
  {
    key: "Tab, Shift + Tab",
    does: "move focus to the next and the previous editable cell while a field is open; else they leave the grid",
    check: async () => {
      await stand(2, COLUMN.left);
      await person.press("F2", "Tab");
      await expect(person.cell(2, COLUMN.right)).toBeFocused();
      await person.press("F2", "Shift+Tab");
      await expect(person.cell(2, COLUMN.left)).toBeFocused();
      await person.press("Tab");
      await expect(page.getByRole("grid").locator(":focus")).toHaveCount(0);
      await person.press("Shift+Tab");
      await expect(person.cell(2, COLUMN.left)).toBeFocused();
    },
  },
];

for (const [part, lines] of Object.entries({ MOVING, SELECTING, EDITING })) {
  test.describe(part.toLowerCase(), () => {
    for (const { key, does, check } of lines) test(`${key}: ${does}`, check);
  });
}

test("the grid says that several cells can be selected, and each cell whether it is", async () => {
  await stand(1, COLUMN.left);
  await expect(page.getByRole("grid")).toHaveAttribute("aria-multiselectable", "true");
  await expect(person.cell(1, COLUMN.left)).toHaveAttribute("aria-selected", "false");
  await expect(person.cell(1, COLUMN.row)).toHaveAttribute("aria-selected", "false");
});

test("as a courtesy: Shift with a press of the mouse, and a drag, select too", async () => {
  await stand(1, COLUMN.left);
  await person.cell(1, COLUMN.left).click();
  await person.cell(4, COLUMN.right).click({ modifiers: ["Shift"] });
  await expect(said()).toHaveText("4 rows × 2 columns selected");
  await person.cell(2, COLUMN.left).hover();
  await page.mouse.down();
  await person.cell(3, COLUMN.right).hover();
  await page.mouse.up();
  await expect(said()).toHaveText("2 rows × 2 columns selected");
});
