import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";

import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("F1 shows the page about the work, with its keys, and gives the half-typed reading back", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const sheet = (await callFrom(page, "sheets.list", {})).at(-1);
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: new RegExp(`^Measure on sheet ${sheet?.number}`) }));
  await page.getByRole("grid").waitFor();
  await page.keyboard.type("12.");
  const editor = page.getByRole("grid").locator("input:focus");
  await expect(editor).toHaveValue("12.");

  await person.press("F1");
  const help = page.getByRole("dialog", { name: "Measuring a sheet" });
  await expect(help).toContainText("A flag never changes a size.");
  await expect(help.getByRole("heading", { name: "Cells" })).toBeVisible();
  await expect(help.locator("kbd", { hasText: "F9" })).toBeVisible();
  await person.activate(help.getByRole("link", { name: "Reports, spreadsheets and the file" }));
  await expect(page.getByRole("dialog", { name: "Reports, spreadsheets and the file" })).toContainText(
    "Backups",
  );
  await person.press("Escape");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await person.press("F2");
  await expect(editor).toHaveValue("12.");

  await person.press("Shift+F1");
  await expect(page.getByRole("dialog", { name: "Keys" }).locator("kbd", { hasText: "Alt+0" })).toBeVisible();
  await person.press("Escape");
  expect(faults).toEqual([]);
});

test("the handbook is searched, read and printed by keyboard; what changed stands beside it", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("calibrate");
  await person.press("F1");
  await person.activate(page.getByRole("dialog").getByRole("button", { name: "The whole handbook" }));
  await expect(page.getByRole("heading", { name: "Lining up and dividing" })).toBeVisible();
  await expect(page.getByRole("img", { name: /^Reticle scale and stage micrometer/ })).toBeVisible();

  await person.fill("Find in the handbook", "bright halo");
  await expect(page.getByRole("status").filter({ hasText: "passage" })).toContainText(/^[1-9]/);
  await person.activate(
    page.getByRole("navigation", { name: "Pages of the handbook" }).getByRole("button").first(),
  );
  await expect(page.getByRole("heading", { name: "Which edge" })).toBeVisible();
  await seenInBothThemes(page, "handbook");

  await person.activate(page.getByRole("button", { name: "All pages, for paper" }));
  await expect(page.getByRole("heading", { name: "Words", exact: true })).toBeVisible();
  await page.emulateMedia({ media: "print" });
  await expect(page.getByRole("textbox", { name: "Find in the handbook" })).toBeHidden();
  await expect(page.getByRole("heading", { name: "What U means" })).toBeVisible();
  await page.emulateMedia({ media: "screen" });

  await person.activate(page.getByRole("button", { name: "What changed" }));
  await expect(page.getByRole("heading", { name: "0.2.0" })).toBeVisible();
  expect(faults).toEqual([]);
});
