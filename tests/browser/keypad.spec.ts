import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { endWithoutFaults, goToSheet, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

const COLUMN = { label: 2, left: 3, right: 4, divisions: 5, size: 6, objective: 7 } as const;

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let pad: Keypad;
let sheetId: string;

test.use({ screenshot: "only-on-failure" });

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  const opened = await openPreparedWindow(context, program, readyBench, 20_000);
  ({ window, page, person } = opened);
  ({ sheetId } = opened.made);
  pad = await Keypad.of(page);
  await goToSheet(page, person);
});

test.afterEach(() => endWithoutFaults(window, program));

/** Every reading on disk, in the order of the sheet: left, right. */
async function storedReadings(): Promise<readonly (string | null)[]> {
  const { rows } = await callFrom(page, "rows.page", { sheetId, from: 1, count: 500 });
  return rows.flatMap((row) => row.measurements.flatMap((one) => [one.left, one.right]));
}

const remark = () => page.getByRole("status").first();

test("a whole series by the keypad alone: readings, another objective, a label repeated, a step back", async () => {
  await pad.type("23.0⏎51.5⏎");
  await person.expectCell(1, COLUMN.size, /^295\.6 ± \d\.\d$/);
  await pad.type("12,5⏎47.5⏎");
  await person.expectCell(2, COLUMN.divisions, "35");
  // Another objective, then back; the row shows which it was read with.
  await pad.type("/2");
  await pad.type("10⏎90⏎");
  await person.expectCell(3, COLUMN.objective, "2 · 40×");
  await person.expectCell(3, COLUMN.size, "no factor");
  await pad.type("/1");
  // A slip: the right edge is put right with a step back.
  await pad.type("20⏎80⏎-81⏎");
  await person.expectCell(4, COLUMN.right, "81");
  await person.expectCell(4, COLUMN.divisions, "61");
  await pad.type("30⏎+");
  await pad.type("31⏎71⏎");
  await expect
    .poll(storedReadings)
    .toEqual(["23.0", "51.5", "12,5", "47.5", "10", "90", "20", "81", "30", null, "31", "71"]);
});

test("the label above is repeated with *", async () => {
  await page.keyboard.type("Betula");
  await page.keyboard.press("Enter");
  await pad.type("23.0⏎51.5⏎*41⏎61⏎");
  await person.expectCell(2, COLUMN.label, "Betula");
  await expect
    .poll(async () =>
      (await callFrom(page, "rows.page", { sheetId, from: 1, count: 9 })).rows.map((row) => row.label),
    )
    .toEqual(["Betula", "Betula"]);
});

test("with NumLock off the keypad says so and moves nothing", async () => {
  await pad.type("23.0⏎");
  await pad.typeWithoutNumLock("7");
  await expect(remark()).toContainText("NumLock is off");
  await expect(person.cell(1, COLUMN.right)).toBeFocused();
  await pad.typeWithoutNumLock("46.0");
  await expect(person.cell(1, COLUMN.right)).toBeFocused();
  await pad.type("51.5⏎");
  await expect.poll(storedReadings).toEqual(["23.0", "51.5"]);
});

test("keys without any gap between them lose nothing", async () => {
  const values = Array.from({ length: 40 }, (_, at) =>
    at % 2 === 0 ? `${10 + at}.5` : `${60 + (at % 30)},25`,
  );
  await pad.rush(values.map((value) => `${value}⏎`).join(""));
  await person.expectStored(20);
  expect(await storedReadings()).toEqual(values);
});

test("what is typed after the wheel has scrolled the cell away lands in it, and it comes back into sight", async () => {
  await pad.rush(Array.from({ length: 30 }, (_, at) => `${at}⏎${at + 20}⏎`).join(""));
  await person.expectStored(30);
  // The question of the train is answered, so that nothing stands over the grid's middle.
  await pad.type("⏎");
  const active = person.cell(31, COLUMN.left);
  await expect(active).toBeFocused();
  await page.getByRole("grid").hover();
  await page.mouse.wheel(0, -5000);
  await expect(active).not.toBeInViewport();
  await pad.type("777⏎");
  await person.expectCell(31, COLUMN.left, "777");
  await expect(person.cell(31, COLUMN.right)).toBeInViewport();
  await expect.poll(async () => (await storedReadings()).at(-2)).toBe("777");
});

test("a key typed after a click beside the grid is not lost", async () => {
  await pad.type("4");
  await page.mouse.click(700, 100);
  await pad.type("1⏎");
  await person.expectStored(1);
  expect(await storedReadings()).toEqual(["41", null]);
});

test("half-typed text is there again after the program was killed, its editor open", async ({ context }) => {
  await pad.type("23.0⏎51");
  await expect
    .poll(async () => (await callFrom(page, "sheets.get", { sheetId })).drafts.map((draft) => draft.typed))
    .toEqual(["51"]);
  await program.kill9();
  await program.restart();
  const again = (await openBenchWindow(context, program.address)).page;
  const next = new KeyboardPerson(again);
  await next.go("measure");
  await next.activate(again.getByRole("button", { name: /Measure on sheet/ }));
  await expect(next.cell(1, COLUMN.right).getByRole("textbox")).toHaveValue("51");
  await (await Keypad.of(again)).type(".5⏎");
  await next.expectCell(1, COLUMN.size, /^295\.6/);
  // The window left behind asks a program that is gone.
  (window.faults as string[]).length = 0;
});

test("with the host gone readings wait in their cells and go out when it is back", {
  tag: "@loopback",
}, async () => {
  await page.route("**/call/rows.enter", (route) => route.abort());
  await pad.type("23.0⏎51.5⏎");
  await expect(person.cell(1, COLUMN.left)).toHaveAttribute("data-status", "pending");
  await expect(page.getByRole("alert")).toContainText("2 not stored yet", { timeout: 20_000 });
  await page.unroute("**/call/rows.enter");
  await person.expectStored(1);
  await expect.poll(storedReadings).toEqual(["23.0", "51.5"]);
  await expect(page.getByRole("alert")).toHaveCount(0);
  // The refusals of the aborted requests are expected here.
  (window.faults as string[]).length = 0;
});
