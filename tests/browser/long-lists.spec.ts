import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("sheets are found, narrowed, gone through and come back to where they were left, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("records");
  const rows = page.getByRole("table", { name: "Sheets" }).locator("tbody tr");
  const named = async (row: number): Promise<string> =>
    (await rows.nth(row).getByRole("rowheader").textContent())?.trim() ?? "";
  const find = page.getByRole("searchbox", { name: /^Find: number/ });
  await expect(find).toBeFocused();
  const all = await rows.count();
  expect(all).toBeGreaterThan(3);

  await page.keyboard.type("nothing of that name");
  await expect(page.getByText("Nothing here is as you look for it.")).toBeVisible();
  await person.press("Escape");
  await expect(rows).toHaveCount(all);
  await page.keyboard.type("S-000");
  await expect(page.getByText(`${all} found`)).toBeVisible();

  await person.press("ArrowDown", "ArrowDown");
  const number = await named(1);
  await expect(page.getByRole("button", { name: `Details of ${number}` })).toBeFocused();
  await person.press("ArrowRight");
  await expect(page.getByRole("button", { name: `Measure ${number}`, exact: true })).toBeFocused();
  await person.press("ArrowLeft", "Tab");
  const next = await named(2);
  await expect(
    page.getByRole("button", { name: `Details of ${next}` }),
    "one Tab stop per row",
  ).toBeFocused();
  await person.press("r");
  await expect(page.getByRole("heading", { name: "Fingerprints" })).toBeVisible();

  await person.press("Alt+ArrowLeft");
  await expect(page.getByRole("button", { name: `Details of ${next}` }), "where it was left").toBeFocused();
  await expect(find).toHaveValue("S-000");

  await person.activate(page.getByRole("button", { name: "Show all" }));
  await page.getByText("Narrow the list").press("Enter");
  const by = page.getByRole("combobox", { name: "By" });
  await by.selectOption({ label: "me" });
  // Until the answer is there, the list is the one before.
  await expect(async () => {
    await expect(page.getByText(`${await rows.count()} found`)).toBeVisible({ timeout: 100 });
  }).toPass();
  await by.selectOption({ label: "any" });
  await page.getByLabel("To the day").fill("19000101");
  await expect(page.getByText("0 found")).toBeVisible();
  await page.getByLabel("To the day").fill("");
  await person.activate(page.getByRole("button", { name: "Rows" }));
  const counts = async (): Promise<number[]> =>
    (await rows.locator("td:nth-child(5)").allTextContents()).map(Number);
  await expect(async () => {
    const shown = await counts();
    expect(shown).toEqual([...shown].sort((a, b) => a - b));
  }).toPass({ timeout: 10_000 });
  expect(faults).toEqual([]);
});

test("a line of the audit trail is found by its words", async ({ context }) => {
  test.slow();
  const { page } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Audit trail" }));
  const find = page.getByRole("searchbox", { name: /^Find: words of the act/ });
  await find.fill("microscopes.register");
  const rows = page.getByRole("table", { name: "Audit trail, newest first" }).locator("tbody tr");
  await expect(rows).toHaveCount(2);
  await expect(rows.first()).toContainText("registered a microscope");
  await find.fill("microscopes.register unheard-of");
  await expect(page.getByText("No line is as you look for it.")).toBeVisible();
});
