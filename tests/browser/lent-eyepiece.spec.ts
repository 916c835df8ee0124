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

test("an eyepiece is lent, nothing is read with it meanwhile, and a statement at its return gives its factors back", async ({
  context,
}) => {
  test.slow();
  const { page, person, bench } = await openMeasureWindow(context, program, { rows: "A1\t10\t40" });
  const pad = await Keypad.of(page);
  const button = (name: string | RegExp) => page.getByRole("button", { name });
  const rows = async () =>
    (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 9 })).total;

  await person.go("registers");
  await person.activate(button(/^Stand A/));
  const table = page.getByRole("table", { name: "Eyepieces of Stand A" });
  await expect(table).toContainText("here");
  await person.activate(button("Lend eyepiece 10×/22"));
  const lending = page.getByRole("form", { name: "Lend eyepiece 10×/22" });
  await expect(lending.getByLabel(/^To whom, where/)).toBeFocused();
  await person.press("Control+Enter");
  await expect(lending.getByLabel(/^To whom, where/)).toHaveAttribute("aria-invalid", "true");
  await seenInBothThemes(page, "eyepiece-lending");
  await page.keyboard.type("teaching laboratory, stand C");
  await person.press("Control+Enter");
  await expect(lending).toHaveCount(0);
  await expect(table).toContainText(/lent since .*: teaching laboratory, stand C\./);
  await seenInBothThemes(page, "eyepiece-lent");

  // The open sheet says where it is and takes no reading.
  await person.go("measure");
  const { sheet } = await callFrom(page, "sheets.get", { sheetId: bench.sheetId });
  await person.activate(button(new RegExp(sheet.number)).first());
  const objective = page.getByRole("region", { name: "Objective in use" });
  await expect(objective).toContainText(/eyepiece is lent since .*: teaching laboratory, stand C\./);
  await page.getByRole("grid").waitFor();
  await pad.type("12⏎");
  await expect(page.getByText(/That eyepiece is lent since .*: teaching laboratory/).first()).toBeVisible();
  expect(await rows()).toBe(1);

  await person.go("registers");
  await person.activate(button(/^Stand A/));
  await person.activate(button("Bring back eyepiece 10×/22"));
  const returning = page.getByRole("form", { name: "Bring back eyepiece 10×/22" });
  await expect(returning.getByLabel(/^How it came back/)).toBeFocused();
  await page.keyboard.type("sealed, reticle untouched");
  await person.tabTo(returning.getByLabel("Its factors"));
  await person.press("ArrowDown");
  await expect(returning.getByLabel("Its factors")).toHaveValue("unchanged");
  await person.press("Control+Enter");
  await expect(returning).toHaveCount(0);
  await expect(table).toContainText("here");
  await expect(page.getByRole("table", { name: "Events of Stand A" })).toContainText(
    "brought back, nothing changed",
  );

  // What was typed while it was away is still there and goes in now.
  await person.go("measure");
  await person.activate(button(new RegExp(sheet.number)).first());
  await page.getByRole("grid").waitFor();
  await expect(objective).not.toContainText("is lent");
  await expect(objective).toContainText("µm/div");
  const { rows: read } = await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 1 });
  expect(read[0]?.measurements[0]?.flags).toEqual([]);
  await expect
    .poll(async () => (await callFrom(page, "bench.overview", {})).microscopes[0]?.trains[0]?.state)
    .toBe("ready");
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});
