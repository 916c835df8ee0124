import { expect, type Page, test } from "@playwright/test";
import { plainPng } from "../support/plain-png.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import { copyPicture } from "./copied-picture.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

/* Rows, pictures and positions are invented. */

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let sheetId: string;

const COLUMN = { left: 3 } as const;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  const opened = await openMeasureWindow(context, program, {
    rows: "Tilia 1\t10\t45\nTilia 2\t11\t46\nAlnus 1\t5\t36",
  });
  ({ window, page, person } = opened);
  sheetId = opened.bench.sheetId;
});

test.afterEach(() => endWithoutFaults(window, program));

const pictures = () => callFrom(page, "attachments.ofSheet", { sheetId });
const stages = async () =>
  (await callFrom(page, "rows.page", { sheetId, from: 1, count: 9 })).rows.map((row) => row.stage);

const aside = () => page.getByRole("complementary", { name: "Picture of the row" });

/** To the first reading of a row, by keys. */
async function toRow(row: number): Promise<void> {
  await person.press("Control+Home");
  for (let at = 1; at < row; at += 1) await person.press("ArrowDown");
  await person.press("ArrowRight", "ArrowRight");
  await expect(person.cell(row, COLUMN.left)).toBeFocused();
}

test("a picture is pasted to a row with its caption, stands beside it, goes into the report, and is withdrawn, by keyboard", async () => {
  await toRow(2);
  await copyPicture(page);
  await person.press("Control+v");
  const dialog = page.getByRole("dialog", { name: "Pictures of row 2, Tilia 2" });
  await expect(dialog.getByRole("img", { name: "The picture to be attached" })).toBeVisible();
  await expect(dialog.getByLabel("What it shows")).toBeFocused();
  await page.keyboard.type("equatorial view");
  await seenInBothThemes(page, "row-picture-question");
  await person.press("Enter");
  await expect(dialog).toBeHidden();
  await expect(page.getByText("attached to row 2, Tilia 2.")).toBeVisible();
  await expect(person.cell(2, COLUMN.left)).toBeFocused();
  const [kept] = await pictures();
  expect(kept).toMatchObject({ caption: "equatorial view", mediaType: "image/png", withdrawn: null });
  await expect(aside().getByRole("img", { name: "equatorial view" })).toHaveAttribute("data-drawn", "true");
  expect(
    await aside()
      .locator("canvas")
      .evaluate((one: HTMLCanvasElement) => one.width),
  ).toBe(240);
  await expect(aside()).toContainText("equatorial view");
  await seenInBothThemes(page, "row-picture-beside");
  // Another row has none, and readings go on without the focus moving.
  await person.press("ArrowDown");
  await expect(aside()).toContainText("No picture.");
  await expect(person.cell(3, COLUMN.left)).toBeFocused();

  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0001" }));
  const choice = page.getByRole("checkbox", { name: "with the 1 picture of rows" });
  await choice.waitFor();
  await expect(page.getByRole("region", { name: "Pictures of rows" })).toHaveCount(0);
  await person.tabTo(choice);
  await person.press("Space");
  const inReport = page.getByRole("region", { name: "Pictures of rows" });
  await expect(inReport.getByRole("img", { name: "Row 2, Tilia 2: equatorial view" })).toBeVisible();
  await expect(inReport).toContainText(kept?.sha256 ?? "none");
  await expect(page.getByRole("button", { name: "Print or save as PDF" })).toBeEnabled();
  await seenInBothThemes(page, "row-picture-report");

  await person.press("Alt+ArrowLeft", "Alt+ArrowLeft");
  await page.getByRole("grid").waitFor();
  await toRow(2);
  await expect(aside()).toContainText("equatorial view");
  await person.press("Alt+i");
  await expect(dialog.getByRole("table")).toContainText(kept?.sha256 ?? "none");
  await person.activate(dialog.getByRole("button", { name: /^Withdraw pasted/ }));
  await expect(dialog.getByLabel("Reason")).toBeFocused();
  await page.keyboard.type("of another grain");
  await person.press("Control+Enter");
  await expect(dialog.getByRole("table")).toContainText("of another grain");
  await person.press("Escape");
  await expect(aside()).toHaveCount(0);
  expect(await pictures()).toMatchObject([{ withdrawn: { reason: "of another grain" } }]);
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});

test("a file is chosen or dropped for a row; what is no picture is refused at its field and nothing is kept", async () => {
  await toRow(3);
  await person.press("Alt+i");
  const dialog = page.getByRole("dialog", { name: "Pictures of row 3, Alnus 1" });
  const field = dialog.getByLabel(/^Picture: paste it/);
  await person.press("Control+Enter");
  await expect(dialog.getByText("Picture is missing: paste, drop or choose one").first()).toBeVisible();
  await field.setInputFiles({ name: "sketch.png", mimeType: "image/png", buffer: Buffer.from("<svg/>") });
  await person.tabTo(dialog.getByLabel("What it shows"));
  await person.press("Enter");
  await expect(dialog.getByText(/sketch\.png is not a PNG, JPEG or PDF file/).first()).toBeVisible();
  expect(await pictures()).toEqual([]);
  await field.setInputFiles({ name: "sketch.png", mimeType: "image/png", buffer: plainPng(900, 20) });
  await person.tabTo(dialog.getByLabel("What it shows"));
  await person.press("Enter");
  await expect(dialog).toBeHidden();
  await expect(aside().locator("canvas")).toHaveAttribute("data-drawn", "true");

  // Dropped on a row that the cursor is not in.
  const dropped = await page.evaluateHandle(
    (bytes) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(bytes)], "dropped.png", { type: "image/png" }));
      return data;
    },
    [...plainPng(30, 20)],
  );
  const target = person.cell(1, COLUMN.left);
  await target.dispatchEvent("dragover", { dataTransfer: dropped });
  await target.dispatchEvent("drop", { dataTransfer: dropped });
  const other = page.getByRole("dialog", { name: "Pictures of row 1, Tilia 1" });
  await expect(other.getByText("dropped.png")).toBeVisible();
  await person.press("Control+Enter");
  await expect(other).toBeHidden();
  await expect
    .poll(async () => (await pictures()).map((one) => one.fileName))
    .toEqual(["dropped.png", "sketch.png"]);
});

test("positions by vernier and by finder square are typed in the row; on the map one leads back to its row", async () => {
  await person.press("Alt+m");
  await expect(page.getByText("No row of this sheet has a position yet.")).toBeVisible();
  await person.press("Escape");
  await person.press("Alt+v");
  await person.tabTo(page.getByRole("checkbox", { name: /stage coordinates/ }));
  await person.press("Space");
  await person.tabTo(page.getByRole("checkbox", { name: /square of a finder slide/ }));
  await person.press("Space", "Escape");
  const grid = page.getByRole("grid");
  await expect(grid.getByRole("columnheader", { name: "finder-slide square" })).toHaveCount(1);
  await expect(grid).toHaveAttribute("aria-colcount", "12");
  const square = 11;
  await toRow(1);
  await person.press("End", "ArrowLeft", "ArrowLeft", "ArrowLeft");
  await person.take("12.4", "101.5", "M23");
  await expect.poll(async () => (await stages())[0]).toEqual({ x: "12.4", y: "101.5", square: "M23" });
  await expect(person.cell(2, COLUMN.left)).toBeFocused();
  await person.press("End", "ArrowLeft");
  await page.keyboard.type("23M");
  await person.press("Enter");
  await expect(person.cell(2, square)).toContainText("is no square of a finder slide");
  await person.press("Control+a");
  await person.take("B4");
  await expect.poll(async () => (await stages())[1]).toEqual({ x: "", y: "", square: "B4" });
  await expect(person.cell(3, COLUMN.left)).toBeFocused();
  await person.press("End", "ArrowLeft", "ArrowLeft", "ArrowLeft");
  await person.take("40.2", "90");
  await expect.poll(async () => (await stages())[2]).toEqual({ x: "40.2", y: "90" });

  await person.press("Alt+m");
  const dialog = page.getByRole("dialog", { name: "Positions of rows" });
  await expect(dialog.getByText("3 rows with a position")).toBeVisible();
  await expect(dialog.getByRole("img", { name: /^Map of 2 rows/ })).toHaveCount(2);
  // A dialog does not hear the key of the theme: it is opened in each.
  for (let theme = 0; theme < 2; theme += 1) {
    await seenInBothThemes(page, "row-positions");
    await person.press("Escape", "F8", "Alt+m");
    await expect(dialog.getByText("3 rows with a position")).toBeVisible();
  }
  await page.keyboard.type("m23");
  await person.press("Enter");
  await expect(dialog).toBeHidden();
  await expect(page.locator('[aria-rowindex="3"] [data-active-cell]')).toBeFocused();

  await person.press("Alt+m");
  await person.tabTo(dialog.getByRole("button", { name: "Go to row 1" }));
  await person.press("ArrowDown", "ArrowDown", "Enter");
  await expect(dialog).toBeHidden();
  await expect(page.locator('[aria-rowindex="5"] [data-active-cell]')).toBeFocused();
});
