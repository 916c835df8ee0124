import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { type ReadyBench, readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure" });

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let bench: ReadyBench;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(20_000);
  person = new KeyboardPerson(page);
  bench = await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
});

test.afterEach(async () => {
  // What the window says once its program is gone is no fault.
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

const rows = async () =>
  (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 9 })).rows;

async function openSheet(): Promise<void> {
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: /Measure on sheet/ }));
  await page.getByRole("grid").waitFor();
}

test("letters, an exponent and a second mark are refused as typed, at once and when taken; nothing is edited", async () => {
  await openSheet();
  const cell = person.cell(1, 3);
  for (const [typed, why] of [
    ["12x", /“12x” has a character that is not part of a number: “x”/],
    ["1e5", /“1e5” must be written out, without an exponent/],
    ["12,5,3", /“12,5,3” has more than one decimal mark/],
    ["4-5", /“4-5” is not a number/],
  ] as const) {
    await page.keyboard.type(typed);
    await expect(cell.getByRole("textbox")).toHaveValue(typed);
    await expect(cell).toHaveAttribute("aria-invalid", "true");
    await expect(cell).toHaveAccessibleDescription(why);
    await person.press("Enter");
    await expect(cell).toHaveAttribute("aria-invalid", "true");
    expect(await rows()).toEqual([]);
    await person.press("Escape");
    if ((await cell.textContent()) !== "") await person.press("Backspace");
    await expect(cell.getByRole("textbox")).toHaveCount(0);
  }
  await page.keyboard.type("12x");
  await person.press("Backspace");
  await expect(cell).not.toHaveAttribute("aria-invalid", "true");
  await person.press("Enter");
  await expect(person.cell(1, 3)).toHaveText("12");
});

test("an unreadable text typed with F2 stays in its cell with the reason, and nothing is stored", async () => {
  await openSheet();
  await person.take("40");
  await person.press("-", "F2");
  await page.keyboard.type("e5");
  await person.press("Enter");
  const cell = person.cell(1, 3);
  await expect(cell.getByRole("textbox")).toHaveValue("40e5");
  await expect(cell).toHaveAccessibleDescription(/written out, without an exponent/);
  await person.press("Escape");
  await person.expectCell(1, 3, "40");
  await expect.poll(async () => (await rows()).map((row) => row.measurements[0]?.left)).toEqual(["40"]);
});

test("settings with letters, 1e999, a zero span or reversed lines say so at the field and give no factor", async () => {
  await person.go("calibrate");
  await page.getByLabel("Optical train").waitFor();
  await person.press("Control+Enter");
  await page.getByLabel("Setting 1, reticle left").waitFor();
  const cases = [
    { texts: ["0", "9x", "0", "25"], field: "Setting 1, reticle right", reason: /not part of a number/ },
    { texts: ["0", "1e999", "0", "25"], field: "Setting 1, reticle right", reason: /without an exponent/ },
    { texts: ["5", "5", "0", "25"], field: "Setting 1, reticle right", reason: /span of zero/ },
    {
      texts: ["0", "96.4", "25", "0"],
      field: "Setting 1, line right",
      reason: /comes before the line on the left/,
    },
  ];
  for (const { texts, field, reason } of cases) {
    await page.getByLabel("Setting 1, reticle left").focus();
    await person.take(...texts);
    await expect(page.getByLabel(field, { exact: true })).toHaveAttribute("aria-invalid", "true");
    await expect(page.getByLabel(field, { exact: true })).toHaveAccessibleDescription(reason);
    await expect(page.getByText("The first complete setting gives a factor.")).toBeVisible();
  }
  await expect(page.getByText("Kept as typed.")).toBeVisible();
  await person.fill("Reason", "should not get this far");
  await person.press("Control+Enter");
  await expect(page.getByText("Type at least one complete setting first.")).toBeVisible();
  const { trainIds } = bench;
  const kept = await callFrom(page, "calibrations.list", { trainId: trainIds[1] ?? "" });
  expect(kept.map((one) => one.state)).toEqual(["draft"]);
  expect(kept[0]?.settings[0]).toMatchObject({ lineLeft: "25", lineRight: "0" });
});

/** How many pulses of sound have been begun since. */
async function tonesOf(at: Page): Promise<() => Promise<number>> {
  await at.evaluate(() => {
    const begin = OscillatorNode.prototype.start;
    Reflect.set(window, "pulsesHeard", 0);
    OscillatorNode.prototype.start = function (when) {
      Reflect.set(window, "pulsesHeard", Number(Reflect.get(window, "pulsesHeard")) + 1);
      begin.call(this, when);
    };
  });
  return () => at.evaluate(() => Number(Reflect.get(window, "pulsesHeard")));
}

test("certificate positions that fall are refused at their line; nothing is registered and nothing is lost", async () => {
  const before = await callFrom(page, "micrometers.list", {});
  await person.go("registers");
  await person.activate(page.getByRole("button", { name: /micrometers/i }).first());
  await person.activate(page.getByRole("button", { name: /SM 1/ }).first());
  await person.activate(page.getByRole("button", { name: "Enter a certificate" }).first());
  await person.fillAll({
    "Certificate number": "C-2",
    Laboratory: "Invented Length Laboratory",
    "Calibrated on": "2026-03-01",
    "Due again on": "2099-03-01",
    "Why this interval": "glass scale, kept clean",
    "Reference temperature": "20",
    "Expanded uncertainty U": "0.3",
    "Coverage factor k": "2",
  });
  await person.choose("What does the second column of its table hold?", /error/i);
  await person.fill("Line 1, marked", "500");
  await person.press("Enter");
  await page.keyboard.type("0");
  await person.fill("Line 2, marked", "100");
  await person.press("Enter");
  await page.keyboard.type("0");
  const heard = await tonesOf(page);
  await person.press("Control+Enter");
  const second = page.getByLabel("Line 2, marked", { exact: true });
  await expect.poll(heard).toBeGreaterThan(0);
  await expect(second).toHaveAttribute("aria-invalid", "true");
  await expect(second).toHaveValue("100");
  await expect(page.getByLabel("Certificate number")).toHaveValue("C-2");
  expect(await callFrom(page, "micrometers.list", {})).toEqual(before);
});
