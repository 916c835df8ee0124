import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let old: ProgramUnderTest;
let empty: ProgramUnderTest;
test.beforeAll(async () => {
  old = await startProgram({ demo: true });
  empty = await startProgram();
});
test.afterAll(async () => {
  await old.stop();
  await empty.stop();
});

test("the sheets of one bench are read into another by keyboard, and verified there", async ({ context }) => {
  test.setTimeout(240_000);
  const before = await openBenchWindow(context, old.freshAddress());
  const sheets = await callFrom(before.page, "sheets.list", {});
  const sheetIds = sheets.map((one) => one.id).toReversed();
  const begun = await callFrom(before.page, "exports.begin", { sheetIds, format: "json", paper: "A4" });
  const exportId = begun?.exportId ?? "";
  await expect
    .poll(async () => (await callFrom(before.page, "exports.status", { exportId })).state, {
      timeout: 120_000,
    })
    .toBe("done");
  const { file } = await callFrom(before.page, "exports.status", { exportId });
  const path = join(empty.folder, "sheets.json");
  writeFileSync(path, readFileSync(file?.path ?? ""));

  const { page, faults } = await openBenchWindow(context, empty.freshAddress());
  const person = new KeyboardPerson(page);
  await person.fill("Name", "Maren Holt");
  await person.activate(page.getByRole("button", { name: "Register and start" }));
  await page.locator("nav [aria-current=page]").first().waitFor();
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Import", exact: true }));
  const picker = page.getByLabel("Choose a JSON file of this program, or drop it here");
  await person.tabTo(picker);

  const edited = join(empty.folder, "edited.json");
  writeFileSync(edited, readFileSync(path, "utf8").replace(/"left":"(\d)/, '"left":"9$1'));
  await picker.setInputFiles(edited);
  await expect(page.getByText(/sheets\[\d\]\.dataSha256 is not the fingerprint/)).toBeVisible({
    timeout: 60_000,
  });
  await seenInBothThemes(page, "read-in-refused");

  await picker.setInputFiles(path);
  await expect(page.getByText("sheets.json is whole, as it was exported.")).toBeVisible({ timeout: 60_000 });
  await seenInBothThemes(page, "read-in");
  await person.activate(page.getByRole("button", { name: `Read in these ${sheets.length} sheets` }));
  const done = page.getByText(new RegExp(`^${sheets.length} sheets with \\d+ rows read in\\.$`));
  await expect(done).toBeVisible({ timeout: 120_000 });
  await seenInBothThemes(page, "read-in-done");
  await person.activate(page.getByRole("button", { name: "Show the sheets" }));
  for (const { number } of sheets)
    await expect(page.getByText(number, { exact: true }).first()).toBeVisible();
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);

  await person.activate(page.getByRole("button", { name: "Import", exact: true }));
  await picker.setInputFiles(path);
  await expect(page.getByText("sheets.json is whole, but this bench is not empty.")).toBeVisible({
    timeout: 60_000,
  });
  await seenInBothThemes(page, "read-in-not-empty");
  expect(faults).toEqual([]);
});
