import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom } from "./bench-window.ts";
import { Keypad } from "./keypad.ts";
import { openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

test("an objective is replaced at its position: the old one measures no more, the new one asks to be calibrated", async ({
  context,
}) => {
  test.slow();
  const { page, person, bench } = await openMeasureWindow(context, program, { rows: "A1\t10\t40" });
  const pad = await Keypad.of(page);
  const button = (name: string | RegExp) => page.getByRole("button", { name });
  const stand = async () => (await callFrom(page, "microscopes.list", {}))[0];

  await person.go("registers");
  await person.activate(button(/^Stand A/));
  await person.activate(button("Replace objective 10×/0.25, position 1"));
  const form = page.getByRole("form", { name: "Replace the 10×/0.25 in position 1" });
  await expect(form.getByLabel(/^Magnification of the new one/)).toBeFocused();
  await person.press("Control+Enter");
  await expect(form.getByLabel(/^Reason/)).toHaveAttribute("aria-invalid", "true");
  await expect(form.getByLabel(/^Reason/)).toBeFocused();
  await seenInBothThemes(page, "objective-replacing");
  await page.keyboard.type("front lens scratched");
  await person.fill("Serial number", "88-2");
  await person.press("Control+Enter");
  await expect(form).toHaveCount(0);
  await expect.poll(async () => (await stand())?.objectives.length).toBe(4);
  const left = page.getByRole("table", { name: "Objectives that left the turret of Stand A" });
  await expect(left).toContainText("10×/0.25, no. 88-2");
  await expect(button(/^Replace objective 10×/)).toHaveCount(1);
  await seenInBothThemes(page, "objective-replaced");

  // What is in the light path of the open sheet is not there any more: no reading is taken with it.
  await person.go("measure");
  const { sheet } = await callFrom(page, "sheets.get", { sheetId: bench.sheetId });
  await person.activate(page.getByRole("button", { name: new RegExp(sheet.number) }).first());
  const objective = page.getByRole("region", { name: "Objective in use" });
  await expect(objective).toContainText("no new reading with it");
  await page.getByRole("grid").waitFor();
  await pad.type("12⏎");
  await expect(
    page.getByText(/left turret position 1 on .*: the 10×\/0.25, no. 88-2, took its place/).first(),
  ).toBeVisible();
  expect((await callFrom(page, "rows.page", { sheetId: sheet.id, from: 1, count: 9 })).total).toBe(1);

  // The position is chosen as ever and now is the new one's, which has no factor yet.
  await pad.type("/1");
  await expect(objective).toContainText("No calibration in force");
  const next = (await stand())?.objectives.find((one) => one.serial === "88-2");
  await expect
    .poll(async () => (await callFrom(page, "sheets.get", { sheetId: sheet.id })).sheet.objectiveId)
    .toBe(next?.id);

  await person.go("bench");
  // What is to be done today, and the card at the position.
  await expect(button(/Calibrate 10×\/0.25 on Stand A/)).toHaveCount(2);
  await expect(page.getByRole("region", { name: "Turret of Stand A" })).not.toContainText("out of service");
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});
