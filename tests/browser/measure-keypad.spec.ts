import { expect, type Page, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { expectSizes, measureScene, type Specimen, specimens, storedRows, typed } from "./measure-scene.ts";

let program: LoopbackProgram;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let pad: Keypad;
let sheetId: string;

test.use({ screenshot: "only-on-failure" });
test.setTimeout(300_000);

test.beforeEach(async ({ context }) => {
  program = await startLoopbackProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(60_000);
  ({ sheetId } = await measureScene(page));
  await page.reload();
  person = new KeyboardPerson(page);
  pad = await Keypad.of(page);
});

test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

/** The keys of one specimen: left ⏎ right ⏎ left ⏎ right ⏎. */
const keysOf = ({ first, second }: Specimen): string =>
  [...first, ...second].map((tenths) => `${typed(tenths)}⏎`).join("");

/** Opens the sheet from the Bench: its jobs are numbered, and the keypad's digits start them. */
async function openFromBench(): Promise<void> {
  const job = page.locator("main").getByRole("listitem").filter({ hasText: "S-0002" }).first();
  const number = /\d/.exec((await job.textContent()) ?? "")?.[0] ?? "";
  await pad.type(number);
  await page.getByRole("grid").waitFor();
}

/** 50 specimens with three objectives; a slip undone and redone, one struck with its reason. */
async function enterAll(wanted: readonly Specimen[]): Promise<void> {
  // The train is confirmed by one key.
  await pad.type("⏎");
  await expect(page.getByRole("region", { name: "Confirm the train" })).toBeEmpty();
  let objective = 0;
  for (const [at, specimen] of wanted.entries()) {
    if (specimen.objective !== objective) {
      objective = specimen.objective;
      await pad.type(`/${objective + 1}`);
    }
    await pad.rush(keysOf(specimen));
    if (at === 4) await slipUndone(specimen);
    if (at === 19) await strikeOne();
  }
}

/** The last reading typed again wrongly; undo, redo, undo bring the right one back. */
async function slipUndone({ second }: Specimen): Promise<void> {
  const right = person.cell(5, 6);
  await pad.type("-99.9⏎");
  await expect(right).toHaveText("99.9");
  await expect(right).toHaveAttribute("data-status", "stored");
  await pad.type("/-");
  await expect(right).toHaveText(typed(second[1]));
  await pad.type("/+");
  await expect(right).toHaveText("99.9");
  await pad.type("/-");
  await expect(right).toHaveText(typed(second[1]));
  await pad.type("+");
}

/** A specimen that turns out to be broken once it is read: back to it, struck, reason 1. */
async function strikeOne(): Promise<void> {
  await pad.type("10⏎50⏎10⏎50⏎");
  await person.expectStored(21);
  await pad.type("-/*");
  await expect(page.getByRole("dialog", { name: "Strike row 21?" })).toBeVisible();
  await pad.type("1");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await expect(page.getByRole("grid").locator('[aria-rowindex="23"]')).toHaveAttribute("data-struck", "true");
  await pad.type("+");
}

test("a full sheet by the keypad alone", async () => {
  const wanted = specimens(50);
  await test.step("from the Bench to the grid", openFromBench);
  await test.step("50 specimens, 3 objectives, undo, strike, repeats", () => enterAll(wanted));
  await person.expectStored(51);
  await expect
    .poll(async () => (await storedRows(page, sheetId)).at(-1)?.measurements[0]?.size)
    .not.toBe(null);
  const rows = await storedRows(page, sheetId);
  expectSizes(rows, wanted);
  expect(rows[20]?.struck?.reason).toBe("broken or deformed");
  const { sheet } = await callFrom(page, "sheets.get", { sheetId });
  expect(sheet.lastConfirmed).toMatchObject({ intermediateMagnification: "1", interpupillary: "63" });
});

test("the keypad changes the person and asks for the train again, and leaves every question", async () => {
  await openFromBench();
  await pad.type("⏎10⏎");
  await pad.type("/0");
  await expect(page.getByRole("dialog", { name: "More" })).toBeVisible();
  await pad.type("-");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await pad.type("/01");
  await page.getByRole("dialog", { name: "Who is at the bench?" }).waitFor();
  await pad.type("2");
  await expect(page.getByRole("region", { name: "Confirm the train" })).toContainText(
    "Ben Example is at the bench.",
  );
  await pad.type("⏎50⏎11⏎51⏎");
  await person.expectStored(1);
  const [row] = await storedRows(page, sheetId);
  expect(row?.measurements[0]).toMatchObject({ left: "10", right: "50", divisions: "40" });
  await pad.type("-/*");
  await page.getByRole("dialog", { name: "Strike row 1?" }).waitFor();
  await pad.type("-");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  expect((await storedRows(page, sheetId))[0]?.struck).toBeNull();
});
