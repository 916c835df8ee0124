import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { goToSheet, openPreparedWindow } from "./measure-window.ts";
import { type ReadyBench, readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
let page: Page;
let person: KeyboardPerson;
let pad: Keypad;
let sheetId: string;

const question = () => page.getByRole("region", { name: "Confirm the train" });
const lastConfirmed = async () => (await callFrom(page, "sheets.get", { sheetId })).sheet.lastConfirmed;

async function prepare(newPage: Page): Promise<ReadyBench> {
  const ready = await readyBench(newPage);
  await callFrom(newPage, "people.register", {
    requestId: "another-person-1",
    person: { name: "Ben Example", initials: "BE", interpupillaryMm: "66.5" },
  });
  // The window's clock is the test's: nobody waits for a break.
  await newPage.clock.install();
  return ready;
}

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  const opened = await openPreparedWindow(context, program, prepare);
  ({ page, person } = opened);
  ({ sheetId } = opened.made);
  pad = await Keypad.of(page);
  await goToSheet(page, person);
});
test.afterEach(() => program.stop());

test("an opened sheet asks for the train; the keypad's Enter says that it is so, and it is recorded", async () => {
  await expect(question()).toHaveAttribute("aria-live", "polite");
  await expect(question()).toContainText("Sheet opened. Is this set-up correct?");
  await expect(question()).toContainText("1 · 10×/0.25");
  await expect(question()).toContainText("interpupillary 63 mm");
  expect(await lastConfirmed()).toBeNull();
  await pad.type("⏎");
  await expect(question()).toBeEmpty();
  await expect.poll(lastConfirmed).toMatchObject({ intermediateMagnification: "1", interpupillary: "63" });
  await pad.type("23.0⏎51.5⏎");
  await person.expectStored(1);
});

test("readings go on while the question stands, and after them Enter answers it", async () => {
  await pad.type("23.0⏎51.5⏎41⏎61⏎");
  await person.expectStored(2);
  await expect(question()).toContainText("Is this set-up correct?");
  await pad.type("⏎");
  await expect.poll(lastConfirmed).not.toBeNull();
  await pad.type("42⏎62⏎");
  await person.expectStored(3);
});

test("another objective by its position is the answer as well", async () => {
  await pad.type("/2");
  await expect(question()).toBeEmpty();
  const { sheet } = await callFrom(page, "sheets.get", { sheetId });
  await expect.poll(lastConfirmed).toMatchObject({ objectiveId: sheet.objectiveId });
  await expect(page.getByRole("region", { name: "Objective in use" })).toContainText("2 · 40×");
});

test("a break asks again and leaves the reading under way where it is", async () => {
  await pad.type("⏎23.0⏎51");
  await page.clock.fastForward("14:00");
  await expect(question()).toBeEmpty();
  await page.clock.fastForward("02:00");
  await expect(question()).toContainText("After a break.");
  await expect(person.cell(1, 4).getByRole("textbox")).toBeFocused();
  await pad.type("⏎");
  await expect(question()).toBeEmpty();
  await pad.type(".5⏎");
  await person.expectCell(1, 4, "51.5");
  await person.expectStored(1);
});

test("a change of person asks under the new name; the half-typed reading is still there", async () => {
  await pad.type("⏎23.0⏎51");
  await person.press("F4");
  const dialog = page.getByRole("dialog", { name: "Who is at the bench?" });
  await person.activate(dialog.getByRole("button", { name: /Ben Example/ }));
  await expect(question()).toContainText("Ben Example is at the bench.");
  await expect(question()).toContainText("66.5 mm");
  await pad.type("⏎");
  await expect.poll(lastConfirmed).toMatchObject({ interpupillary: "66.5" });
  await person.expectCell(1, 4, /^51/);
  await pad.type("51.5⏎");
  await person.expectCell(1, 4, "51.5");
});

test("going to another screen and back asks nothing; the buttons do what the keys do", async () => {
  await page.getByRole("button", { name: "Another objective" }).click();
  await expect(page.getByRole("region", { name: "Objective in use" })).toContainText("Turret position?");
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Yes, correct" }).click();
  await expect.poll(lastConfirmed).not.toBeNull();
  await person.go("trace");
  await person.press("Alt+ArrowLeft");
  await page.getByRole("grid").waitFor();
  await expect(question()).toBeEmpty();
});

test("dioptre, sleeve and glasses are said once and then shown: one key says that nothing changed", async () => {
  await expect(question()).toContainText("Is this set-up correct?");
  await pad.type("/07");
  const dialog = page.getByRole("dialog", { name: "Your eyes at this train" });
  await expect(dialog.getByLabel(/^Dioptre of the reticle eyepiece/)).toBeFocused();
  await seenInBothThemes(page, "eyes-at-train");
  await page.keyboard.type("-1.5");
  await person.press("Tab");
  await page.keyboard.type("1600");
  await person.press("Tab", "ArrowDown", "ArrowDown", "Control+Enter");
  await expect(dialog.getByLabel(/^Sleeve or draw tube/)).toHaveAttribute("aria-invalid", "true");
  await person.press("Control+a");
  await page.keyboard.type("160");
  await person.press("Control+Enter");
  await expect(dialog).toHaveCount(0);
  await expect(question()).toBeEmpty();
  const eyes = { dioptre: "-1.5", sleeve: "160", glasses: "without" };
  await expect.poll(lastConfirmed).toMatchObject({ eyes, interpupillary: "63" });

  // The half of a reading that was typed before is where it was; after a break the question shows what was said.
  await pad.type("23.0⏎51");
  await page.clock.fastForward("16:00");
  await expect(question()).toContainText("dioptre −1.5, sleeve 160 mm, without glasses");
  const before = (await lastConfirmed())?.at;
  await pad.type("⏎");
  await expect(question()).toBeEmpty();
  await expect.poll(async () => (await lastConfirmed())?.at !== before).toBe(true);
  expect(await lastConfirmed()).toMatchObject({ eyes });
  await pad.type(".5⏎");
  await person.expectStored(1);

  await person.go("registers");
  await person.activate(page.getByRole("button", { name: /^People/ }));
  await person.activate(page.getByRole("button", { name: /^Ada Example/ }));
  const said = page.getByRole("table", { name: "Dioptre, sleeve and glasses by train" });
  await expect(said.getByRole("row", { name: /10×\/0.25 on Stand A/ })).toContainText("160");
});
