import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { calibrate, newRequest, replaceCertificate } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { endWithoutFaults, enterRows, openSheet } from "./measure-window.ts";
import { type ReadyBench, readyBench } from "./ready-bench.ts";

/* Everything on the bench is invented: a 10× of 10.37 µm/div, a 40× of 2.593 µm/div, lime grains of about 91 µm. */

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let pad: Keypad;
let bench: ReadyBench;

const MINUTE = 60_000;
const COLUMN = { label: 2, left: 3, right: 4 } as const;

/** The same method on another sheet, on which a label has been measured with the 40×. */
async function earlierSheet(): Promise<void> {
  const [first] = await callFrom(page, "sheets.list", {});
  const overview = await callFrom(page, "bench.overview", {});
  const [stand] = overview.microscopes;
  if (!first || !stand) throw new Error("The bench is not ready.");
  const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification } = first;
  const objectiveId = stand.microscope.objectives.find((one) => one.position === 2)?.id ?? "";
  const sheet = { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId };
  const { id } = await callFrom(page, "sheets.open", { requestId: newRequest(), sheet });
  const rows = Array.from({ length: 24 }, (_, at) => `Tilia ${at + 1}\t10\t${45 + (at % 5) / 5}`);
  await enterRows(page, id, rows.join("\n"));
}

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(30_000);
  bench = await readyBench(page);
  const at = {
    trainId: bench.trainIds[1] ?? "",
    stageMicrometerId: bench.micrometerId,
    certificateId: bench.certificateId,
  };
  const setting = (reticleLeft: string, reticleRight: string) => ({
    reticleLeft,
    reticleRight,
    lineLeft: "0",
    lineRight: "25",
  });
  await calibrate(page, at, [setting("0", "96.4"), setting("0.5", "97.0"), setting("0.2", "96.5")], "first");
  await earlierSheet();
  person = new KeyboardPerson(page);
  pad = await Keypad.of(page);
});

test.afterEach(() => endWithoutFaults(window, program));

test("a size taken with the wrong objective is explained while it is typed, numbers and all", async () => {
  await page.reload();
  await openSheet(page, person, "S-0001");
  const explained = page.getByRole("region", { name: "Flags and history of this row" });
  await page.keyboard.type("Tilia 1\n");
  await pad.type("10⏎45");
  // Nothing is taken yet: the editor still holds the right edge.
  await expect(explained).toContainText("wrong objective?");
  await expect(explained).toContainText(/is 3\.9\d × the median/);
  await expect(explained).toContainText("40× at position 2");
  await expect(explained).toContainText("change the objective of the row");
  const band = explained.getByRole("img", { name: /^Tilia, Length, µm; on earlier sheets n = 24/ });
  await expect(band).toHaveAccessibleName(/this row 363\.\d/);
  await pad.type("⏎");
  await person.expectStored(1);
  // The cursor has gone on to the blank row; what was just taken is still explained.
  await expect(explained).toContainText("wrong objective?");
  await person.press("Alt+e");
  const dialog = page.getByRole("dialog", { name: /^Row 1, Tilia 1: flags and history/ });
  await expect(dialog).toContainText("ratio seen");
  await person.press("Escape");
  await expect(person.cell(2, COLUMN.left)).toBeFocused();
});

test("the next label is proposed at the blank row and taken with one key of the keypad", async () => {
  await page.reload();
  await openSheet(page, person, "S-0001");
  await page.keyboard.type("Tilia 9\n");
  await pad.type("10⏎45⏎");
  await expect(person.cell(2, COLUMN.label)).toContainText("Tilia 10");
  await pad.type("+");
  await expect(person.cell(2, COLUMN.left)).toBeFocused();
  await pad.type("11⏎46⏎");
  await person.expectStored(2);
  const { rows } = await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 10 });
  expect(rows.map((row) => row.label)).toEqual(["Tilia 9", "Tilia 10"]);
  await expect(person.cell(3, COLUMN.label)).toContainText("Tilia 11");
});

test("stage coordinates are asked for by choice, by keypad, and stored with the row", async () => {
  await page.reload();
  await openSheet(page, person, "S-0001");
  await person.press("Alt+v");
  await person.tabTo(page.getByRole("checkbox", { name: /stage coordinates/ }));
  await person.press("Space", "Escape");
  const grid = page.getByRole("grid");
  await expect(grid.getByRole("columnheader", { name: "stage x" })).toHaveCount(1);
  await expect(grid).toHaveAttribute("aria-colcount", "11");
  await pad.type("10⏎45⏎12.4⏎101,5⏎");
  await pad.type("11⏎46⏎⏎⏎");
  await expect(person.cell(3, COLUMN.left)).toBeFocused();
  await person.expectStored(2);
  const stages = async () =>
    (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 10 })).rows.map(
      (row) => row.stage,
    );
  await expect.poll(stages).toEqual([{ x: "12.4", y: "101,5" }, null]);
});

test("a column is made wider by keys, rows stay in line, and it is so the next time", async () => {
  await page.reload();
  await openSheet(page, person, "S-0001");
  await pad.type("10⏎45⏎");
  await person.expectStored(1);
  await person.press("Control+Home", "ArrowRight");
  const cell = person.cell(1, COLUMN.label);
  await expect(cell).toBeFocused();
  const width = async (): Promise<number> => (await cell.boundingBox())?.width ?? 0;
  const before = await width();
  for (let presses = 0; presses < 4; presses += 1) await person.press("Alt+Shift+ArrowRight");
  // Half a rem at each press; the window's rem is 18 px.
  await expect.poll(width).toBe(before + 36);
  await expect(page.getByText("label: width 10")).toBeAttached();
  await expect(cell).toBeFocused();
  const handle = page.getByRole("separator", { name: "Width of label" });
  await expect(handle).toHaveAttribute("aria-valuenow", "10");
  const left = async (row: number) => (await person.cell(row, COLUMN.left).boundingBox())?.x;
  const head = page.getByRole("columnheader", { name: "Length, left edge, divisions" });
  expect(await left(1)).toBe(await left(2));
  expect(await left(1)).toBe((await head.boundingBox())?.x);
  // By pointer, and back to the usual.
  const box = await handle.boundingBox();
  await page.mouse.move((box?.x ?? 0) + 4, (box?.y ?? 0) + 8);
  await page.mouse.down();
  await page.mouse.move((box?.x ?? 0) + 40, (box?.y ?? 0) + 8, { steps: 4 });
  await page.mouse.up();
  await expect.poll(width).toBeGreaterThan(before + 60);
  await expect(handle).not.toHaveAttribute("aria-valuenow", "10");
  const chosen = await width();
  const kept = `label!${await handle.getAttribute("aria-valuenow")}`;
  await expect.poll(() => page.evaluate(() => document.cookie)).toContain(kept);
  await page.reload();
  await page.getByRole("grid").waitFor();
  await expect.poll(width).toBe(chosen);
});

test("after twenty minutes at work it is said, politely, that the eyes may rest", async () => {
  await page.clock.install();
  await page.reload();
  await openSheet(page, person, "S-0001");
  const reminder = page.getByText(/^20 minutes at work: look far away/);
  for (let minute = 0; minute < 19; minute += 1) {
    await page.clock.runFor(MINUTE);
    await pad.type("4");
    await person.press("Escape");
  }
  await expect(reminder).toHaveCount(0);
  await page.clock.runFor(MINUTE + 10_000);
  await expect(reminder).toBeVisible();
  await expect(person.cell(1, COLUMN.left)).toBeFocused();
  await pad.type("10⏎");
  await person.expectCell(1, COLUMN.left, "10");
  await person.press("Alt+r");
  await expect(reminder).toHaveCount(0);
  await person.press("Alt+v");
  await person.tabTo(page.getByRole("checkbox", { name: /remind me/ }));
  await person.press("Space", "Escape");
  for (let minute = 0; minute < 22; minute += 1) {
    await page.clock.runFor(MINUTE);
    await person.press("ArrowLeft");
  }
  await expect(reminder).toHaveCount(0);
});

test("a re-evaluated size and an amendment made elsewhere are shown on the open sheet, what is typed stays", async () => {
  await page.reload();
  await openSheet(page, person, "S-0001");
  await pad.type("10⏎45⏎11⏎46⏎");
  await person.expectStored(2);
  const size = person.cell(1, 6);
  const before = await size.textContent();
  await pad.type("7");
  expect(before).toMatch(/^363\./);
  const corrected = await replaceCertificate(page, bench, [
    { nominal: "0", value: "0" },
    { nominal: "1000", value: "10" },
  ]);
  await callFrom(page, "reevaluations.begin", {
    requestId: newRequest(),
    reevaluation: {
      subject: { kind: "certificate", id: bench.certificateId },
      from: null,
      to: null,
      sheetIds: null,
      replacement: { kind: "certificate", certificateId: corrected.id },
      reason: "the certificate was corrected",
    },
  });
  await expect(size).not.toHaveText(before ?? "", { timeout: 30_000 });
  await expect(size).toHaveText(/^366/);
  await expect(page.getByRole("status").first()).toContainText("changed elsewhere");
  await expect(person.cell(3, COLUMN.left).getByRole("textbox")).toHaveValue("7");
  await callFrom(page, "rows.strike", {
    requestId: newRequest(),
    sheetId: bench.sheetId,
    rowId:
      (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 1 })).rows[0]?.id ?? "",
    reason: "struck in another window",
  });
  await expect(page.locator('[data-row="0"]')).toHaveAttribute("data-struck", "true", { timeout: 30_000 });
});
