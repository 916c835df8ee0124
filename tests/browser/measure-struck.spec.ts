import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { Keypad } from "./keypad.ts";
import { openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;

test.beforeEach(async () => {
  program = await startProgram();
});
test.afterEach(() => program.stop());

const ROWS = Array.from({ length: 6 }, (_, at) => `Grain ${at + 1}\t10\t${40 + at}`).join("\n");

test("Delete strikes every selected row with one reason, and one undo takes all of it back", async ({
  context,
}) => {
  const { page, person, bench } = await openMeasureWindow(context, program, { rows: ROWS });
  const struck = async () =>
    (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 10 })).rows.map(
      (row) => row.struck?.reason ?? null,
    );
  await person.press("Control+Home", "ArrowDown", "Shift+Space", "Shift+ArrowDown", "Shift+ArrowDown");
  await expect(page.getByText("3 rows selected")).toBeVisible();
  await person.press("Delete");
  const dialog = page.getByRole("dialog", { name: "Strike rows 2 to 4?" });
  await expect(dialog.getByRole("textbox", { name: "Reason" })).toBeFocused();
  await seenInBothThemes(page, "strike-rows");
  await person.press("1");
  await expect(dialog).toHaveCount(0);
  await expect(page.getByText("3 rows struck.")).toBeVisible();
  expect(await struck()).toEqual([
    null,
    "broken or deformed",
    "broken or deformed",
    "broken or deformed",
    null,
    null,
  ]);
  await person.press("Control+z");
  await expect.poll(struck).toEqual([null, null, null, null, null, null]);
  await person.press("Control+y");
  await expect.poll(async () => (await struck()).filter((one) => one !== null)).toHaveLength(3);
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});

test("the laboratory's own reasons, with their codes, are chosen by number and typed over by any other", async ({
  context,
}) => {
  const { page, person, bench } = await openMeasureWindow(context, program, { rows: ROWS });
  const pad = await Keypad.of(page);
  await person.go("registers");
  await person.activate(page.getByRole("button", { name: "Laboratory" }).first());
  await page.getByRole("form", { name: "Laboratory" }).waitFor();
  await person.tabTo(person.field("Reasons for striking a row"));
  await page.keyboard.type("B1 burst\nC2 covered by debris");
  await person.fill("Reason for the change", "codes of our quality manual");
  await person.press("Control+Enter");
  await expect(page.getByText("The settings are kept.")).toBeVisible();
  await seenInBothThemes(page, "own-reasons");
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: "Measure on sheet" }));
  await page.getByRole("grid").waitFor();
  await pad.type("-/*");
  await expect(page.getByRole("dialog", { name: /^Strike row/ })).toContainText("C2 covered by debris");
  await pad.type("2");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  const reasons = async () =>
    (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 10 })).rows.flatMap(
      (row) => row.struck?.reason ?? [],
    );
  await expect.poll(reasons).toEqual(["C2 covered by debris"]);
});

test("a reading that was taken directly is corrected in its divisions, by keyboard", async ({ context }) => {
  const { page, person, bench } = await openMeasureWindow(context, program, {
    prepare: async (at, { sheetId }) => {
      await callFrom(at, "rows.enter", {
        requestId: newRequest(),
        sheetId,
        rowId: "from-a-notebook",
        cell: { dimension: "length", edge: "direct" },
        typed: "40.0",
        label: "old notebook",
      });
    },
  });
  const measured = async () =>
    (await callFrom(page, "rows.page", { sheetId: bench.sheetId, from: 1, count: 1 })).rows[0]
      ?.measurements[0];
  await person.press("Control+Home", "ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight");
  await person.expectCell(1, 5, "40.0");
  await person.press("F2");
  await expect(person.cell(1, 5).getByRole("textbox")).toBeFocused();
  await person.press("Control+a");
  await page.keyboard.type("41.5");
  await person.press("Enter");
  await expect.poll(async () => (await measured())?.direct).toBe("41.5");
  expect(await measured()).toMatchObject({ entry: "direct", divisions: "41.5", left: null, right: null });
  await person.expectCell(1, 5, "41.5");
});
