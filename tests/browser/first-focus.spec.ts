import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openMeasureWindow } from "./measure-window.ts";

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

test("each page says where the focus goes first: after F9 and Back, a new sheet, a saved registration", async ({
  context,
}) => {
  test.slow();
  const { page, person } = await openMeasureWindow(context, program, { rows: "A1\t10\t40\nA2\t11\t42" });
  const cell = page.getByRole("grid").locator("[data-active-cell]");
  await expect(cell).toBeFocused();

  await person.press("Control+Home", "F9");
  await page.getByRole("heading", { name: "Traceability of this result" }).first().waitFor();
  await person.press("Alt+ArrowLeft");
  await page.getByRole("grid").waitFor();
  await expect(page.getByRole("grid").locator(":focus")).toHaveCount(1);

  // With sheets to go on with, typing looks for one, from the first key on.
  await person.go("bench");
  await person.press("Alt+3");
  await page.keyboard.type("sample");
  await expect(page.getByRole("searchbox")).toHaveValue("sample");
  await expect(page.getByRole("searchbox")).toBeFocused();
  await person.press("Enter");
  await expect(page.getByRole("grid").locator(":focus")).toHaveCount(1);

  await person.go("registers");
  await person.press("Alt+n");
  await page.keyboard.type("Stand B");
  await expect(page.getByLabel("Name", { exact: true })).toHaveValue("Stand B");
  await person.choose("Binocular head", /^Compensated/);
  await person.fillAll({
    "Objective 1, magnification": "20",
    "Objective 1, aperture": "0.4",
    "Eyepiece 1, name": "left 10×",
    "Eyepiece 1, reticle scale": "10",
    "Eyepiece 1, divisions": "100",
  });
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Stand B" }).waitFor();
  await expect(page.getByRole("button", { name: /^Stand B/ })).toBeFocused();
});
