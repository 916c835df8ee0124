import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { calibrate } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, type MeasureWindow, openMeasureWindow } from "./measure-window.ts";

const COLUMN = { left: 3, size: 6, objective: 7 } as const;

let program: ProgramUnderTest;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

/** 96.4 divisions on 250 µm with the 40×. Invented inputs. */
const FORTY = { reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "25" };

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  measure = await openMeasureWindow(context, program, {
    prepare: async (window, { trainIds, micrometerId, certificateId }) => {
      const at = { trainId: trainIds[1] ?? "", stageMicrometerId: micrometerId, certificateId };
      await calibrate(window, at, [FORTY, FORTY, FORTY], "first calibration of this train");
    },
    rows: "a\t10\t45\nb\t10\t50\nc\t10\t55\nd\t10\t60",
  });
  ({ page, person } = measure);
});

test.afterEach(() => endWithoutFaults(measure.window, program));

const dialog = () => page.getByRole("dialog");
const remark = (words: string) => page.getByRole("status").filter({ hasText: words });
const rows = async () =>
  (await callFrom(page, "rows.page", { sheetId: measure.bench.sheetId, from: 1, count: 10 })).rows;

test("selected rows are said to be measured with another objective: by digit, with a reason, and back with one undo", async () => {
  // By hand, invented readings: 35 divisions at 1000/96.4 µm/div are 363.07… µm.
  await person.expectCell(1, COLUMN.size, /^363\.1 ± /);
  await person.press("Control+Home", "ArrowDown", "Shift+Space", "Shift+ArrowDown", "Alt+o");
  await expect(dialog()).toContainText("Objective of rows 2 to 3");
  await page.keyboard.press("2");
  await expect(dialog().getByRole("radio", { name: /2 · 40×/ })).toBeChecked();
  const becomes = dialog().getByRole("table", { name: "What the sizes become" });
  // 40 divisions at 250/96.4 µm/div.
  await expect(becomes.locator("tbody tr").first()).toContainText(/2b.*1 · 10×.*414\.9 ± .*103\.7 ± /);

  // Without a reason nothing happens.
  await person.press("Enter");
  await expect(dialog().getByLabel("Reason")).toBeFocused();
  await expect(dialog().getByLabel("Reason")).toHaveAttribute("aria-invalid", "true");
  expect((await rows()).every((row) => row.measurements[0]?.trainId === measure.bench.trainIds[0])).toBe(
    true,
  );

  await page.keyboard.type("the 40× was in the path");
  await person.press("Enter");
  await expect(dialog()).toHaveCount(0);
  await expect(remark("2 rows are now measured with 2 · 40×/0.65")).toBeVisible();
  await person.expectCell(2, COLUMN.size, /^103\.7 ± /);
  await person.expectCell(3, COLUMN.objective, "2 · 40×");
  await person.expectCell(4, COLUMN.objective, "1 · 10×");

  // The results before are kept with the reason.
  const changed = (await rows())[1];
  const kept = await callFrom(page, "rows.superseded", { rowId: changed?.id ?? "" });
  expect(kept.map((one) => [one.measurement.size?.shownValue, one.reason])).toEqual([
    ["414.9", "the 40× was in the path"],
  ]);

  await person.press("Control+z");
  await expect(remark("Taken back: the objective of 2 rows")).toBeVisible();
  await person.expectCell(2, COLUMN.size, /^414\.9 ± /);
});

test("without a selection it is the row of the cursor; at the next specimen there is none", async () => {
  await person.press("Alt+o");
  await expect(dialog()).toHaveCount(0);
  await expect(page.getByRole("status", { name: "Selection" })).toContainText("No saved row selected");
  await person.press("Control+Home", "Alt+o");
  await expect(dialog()).toContainText("Objective of row 1");
  await person.press("Escape");
  await expect(dialog()).toHaveCount(0);
  await expect(person.cell(1, 1)).toBeFocused();
});

test("the dialog is accessible in both themes", async () => {
  await person.press("Control+Home", "Control+a", "Alt+o", "2");
  for (const theme of ["dim", "light"]) {
    await page.evaluate((name) => document.documentElement.setAttribute("data-theme", name), theme);
    await expect(dialog().getByRole("table", { name: "What the sizes become" })).toBeVisible();
    const { violations } = await new AxeBuilder({ page })
      .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"])
      .analyze();
    expect(
      violations
        .filter(({ impact }) => impact === "serious" || impact === "critical")
        .map(({ id, nodes }) => `${theme}: ${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`),
    ).toEqual([]);
  }
});
