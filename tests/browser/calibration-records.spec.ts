import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("calibrations are listed by the page, and the last one of them opens in full, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const whole = await callFrom(page, "calibrations.list", { trainId: null });
  expect(whole.length).toBeGreaterThan(50);
  await person.go("records");
  const table = page.getByRole("table", { name: "Calibrations, newest first" });
  for (let tabs = 0; tabs < 10 && !(await table.isVisible()); tabs += 1) {
    await person.press("Alt+PageDown");
    await page.getByRole("heading", { level: 2 }).first().waitFor();
  }
  const lines = table.locator("tbody tr");
  await expect(lines).toHaveCount(50);
  await person.activate(page.getByRole("button", { name: "Next page" }));
  await expect(lines).toHaveCount(whole.length - 50);
  await expect(page.getByRole("button", { name: "Next page" })).toBeDisabled();
  const oldest = whole.at(-1)?.result;
  await expect(lines.last()).toContainText(`${oldest?.shownFactor} ± ${oldest?.shownUncertainty}`);
  await person.activate(lines.last().getByRole("button"));
  await expect(page.getByText(`${oldest?.shownFactor} ± ${oldest?.shownUncertainty}`).first()).toBeVisible();
  await person.activate(page.getByRole("button", { name: "All calibrations" }));
  await expect(lines).toHaveCount(whole.length - 50);
  expect(faults).toEqual([]);
});
