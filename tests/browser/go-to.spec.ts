import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("Ctrl+K finds screens, commands, sheets, samples, labels and people by some letters", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const dialog = page.getByRole("dialog", { name: "Go to" });
  const field = dialog.getByRole("textbox");
  const first = dialog.locator("ul button").first();
  const look = async (words: string, expected: RegExp | string): Promise<void> => {
    await person.press("Control+k");
    await expect(field).toBeFocused();
    await page.keyboard.type(words);
    await expect(first).toContainText(expected);
    await person.press("Enter");
    await expect(dialog).toBeHidden();
  };
  await person.go("bench");

  await look("audit", /Audit trail/);
  await expect(page.getByRole("heading", { name: "Audit trail" })).toBeVisible();

  await look("which edge", /Which edge.*page of the handbook/);
  await expect(page.getByRole("heading", { name: "Which edge" })).toBeVisible();

  // By heart: Enter comes before anything has been drawn or looked for.
  await person.press("Control+k");
  await expect(field).toBeFocused();
  await page.keyboard.type("what u m");
  await person.press("Enter");
  await expect(page.getByRole("heading", { name: "What U means" })).toBeVisible();

  const theme = (): Promise<string | undefined> =>
    page.evaluate(() => document.documentElement.dataset.theme);
  const before = await theme();
  await look("light or dim", /Light or dim.*F8/);
  await expect.poll(theme).not.toBe(before);

  const people = await callFrom(page, "people.list", {});
  const somebody = people.at(-1)?.name ?? "";
  await look(somebody, `${somebody}person`);
  await expect(page.getByRole("heading", { name: somebody, exact: true })).toBeVisible();

  const sheets = await callFrom(page, "sheets.list", {});
  const sheet = sheets.find(({ rowCount }) => rowCount > 3);
  if (!sheet) throw new Error("the demo bench has no sheet with rows");
  const { rows } = await callFrom(page, "rows.page", { sheetId: sheet.id, from: 3, count: 1 });
  await look(`${sheet.number} ${sheet.sample}`, new RegExp(sheet.number));
  await expect(page.getByRole("heading", { name: new RegExp(`^${sheet.number}`) })).toBeVisible();

  const words = rows[0]?.label ?? "";
  const [last] = await callFrom(page, "rows.byLabel", { words, count: 6 });
  if (!last) throw new Error("no row bears the label of a row");
  await person.press("Control+k");
  await page.keyboard.type(words);
  const row = dialog.getByRole("button", { name: `row ${last.ordinal} of ${last.sheetNumber},` }).first();
  await row.press("Enter");
  await expect(page.getByRole("heading", { name: new RegExp(`^${last.sheetNumber}`) })).toBeVisible();
  const at = page.locator(`[role=grid] [aria-rowindex="${last.ordinal + 2}"]`);
  await expect(at.locator("[data-active-cell]")).toBeFocused();

  await person.press("Control+k");
  await page.keyboard.type("nowhere to be found");
  await expect(dialog.getByText("0 places found")).toBeVisible();
  await person.press("Enter");
  await expect(dialog, "there is nothing to go to").toBeVisible();
  await person.press("Escape");
  await expect(dialog).toBeHidden();
  expect(faults).toEqual([]);
});
