import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { expectFigure } from "./count-keys.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { clipboardText, enterRows, openPreparedWindow, paste } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
let page: Page;
let person: KeyboardPerson;

test.beforeEach(async ({ context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  program = await startProgram();
  ({ page, person } = await openPreparedWindow(context, program, readyBench));
});
test.afterEach(() => program.stop());

test("forty samples pasted from a spreadsheet are opened at once and stand in the worklist of Bench", async () => {
  await person.go("measure");
  const form = page.getByRole("form", { name: "Open a new sheet" });
  await form.waitFor();
  await person.activate(page.getByText("Several samples at once …"));
  await person.tabTo(person.field("Samples"));
  await paste(page, "Jar 1\nJar 2\nJar 1\n");
  await person.press("Control+Enter");
  await expect(page.getByText(/holds “Jar 1” twice, as 1 and 3/).first()).toBeVisible();
  await person.tabTo(person.field("Samples"));
  await person.press("Control+a");
  await paste(page, Array.from({ length: 40 }, (_, at) => `Jar ${at + 1}`).join("\n"));
  await seenInBothThemes(page, "several-samples");
  await person.press("Control+Enter");
  await expect(page.getByRole("heading", { name: /S-0002 · Jar 1$/ })).toBeVisible();
  expect(await callFrom(page, "sheets.list", {})).toHaveLength(41);

  await person.go("bench");
  await expect(page.getByRole("heading", { name: "Worklist" })).toBeVisible();
  await expect(page.getByText(/^41 sheets not closed/)).toBeVisible();
  await seenInBothThemes(page, "worklist");
  const first = page.getByRole("button", { name: "Measure S-0001, Sample 7" });
  await person.tabTo(first);
  await person.press("ArrowDown", "ArrowDown");
  await expect(page.getByRole("button", { name: "Measure S-0003, Jar 2" })).toBeFocused();
  await person.press("Enter");
  await expect(page.getByRole("heading", { name: /S-0003 · Jar 2$/ })).toBeVisible();
});

test("the results of all sheets of a job stand on one page, and go to a spreadsheet", async () => {
  const [sheet] = await callFrom(page, "sheets.list", {});
  if (!sheet) throw new Error("the bench has no sheet");
  const { methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const parts = { methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId };
  const opened = await callFrom(page, "sheets.openMany", {
    requestId: newRequest(),
    sheet: { ...parts, customer: "Moor Apiary", note: "" },
    samples: ["Jar 1", "Jar 2", "Jar 3"],
  });
  for (const [at, one] of opened.slice(0, 2).entries()) {
    await enterRows(page, one.id, `grain\t10\t${40 + at}\ngrain\t10\t${42 + at}`);
  }
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Summary" }).first());
  await person.tabTo(person.field("Job"));
  await person.press("Enter");
  await expect(page.getByText(/is empty: type what the sheets/).first()).toBeVisible();
  await person.tabTo(person.field("Job"));
  await page.keyboard.type("moor apiary");
  await person.press("Enter");
  const table = page.getByRole("table", { name: "Job “moor apiary”" });
  await expect(table.getByRole("row")).toHaveCount(4);
  const { tables } = await callFrom(page, "reports.sheet", { sheetId: opened[0]?.id ?? "" });
  await expect(table.getByRole("row", { name: /Jar 1/ })).toContainText(`${tables[0]?.lines[0]?.mean} µm`);
  await expect(table.getByRole("row", { name: /Jar 3/ })).toContainText("S-0004");
  await seenInBothThemes(page, "job-summary");
  await person.activate(page.getByRole("button", { name: "Copy for a spreadsheet" }));
  await expect(page.getByText("Copied: paste it into a spreadsheet.")).toBeVisible();
  const copied = (await clipboardText(page)).split("\n");
  expect(copied).toHaveLength(4);
  expect(copied[1]?.split("\t").slice(0, 2)).toEqual(["S-0002", "Jar 1"]);
  await person.tabTo(page.getByRole("button", { name: /^Details of S-0002/ }));
  await person.press("ArrowDown");
  await expect(page.getByRole("button", { name: /^Details of S-0003/ })).toBeFocused();
  await person.press("Enter");
  await expect(page.getByRole("heading", { name: "Sheet S-0003" })).toBeVisible();
});

test("counts of several samples wait in the worklist, are begun there, and stand in the summary of their job", async () => {
  await person.go("count");
  await page.getByRole("form", { name: "Open a count" }).waitFor();
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Cells, improved");
  await person.activate(page.getByText("Several samples at once …"));
  await person.tabTo(person.field("Samples"));
  await paste(page, "Vat 1\nVat 2\nVat 1\n");
  await person.press("Control+Enter");
  await expect(page.getByText(/holds “Vat 1” twice, as 1 and 3/).first()).toBeVisible();
  await person.tabTo(person.field("Samples"));
  await person.press("Control+a");
  await paste(page, Array.from({ length: 20 }, (_, at) => `Vat ${at + 1}`).join("\n"));
  await person.fill("Customer", "Hill Brewery");
  await seenInBothThemes(page, "several-counts");
  await person.press("Control+Enter");
  await expect(page.getByRole("heading", { name: "T-0001 · Vat 1" })).toBeVisible();
  await expect(page.getByText("F7 begins the count.")).toBeVisible();

  await person.go("bench");
  await expect(page.getByText(/^1 sheet and 20 counts not closed, 0 of the 13 shown begun/)).toBeVisible();
  await person.tabTo(page.getByRole("button", { name: /^Measure S-0001/ }));
  await person.press("ArrowDown", "ArrowDown");
  await expect(page.getByRole("button", { name: /^Count T-0002, Vat 2/ })).toBeFocused();
  await seenInBothThemes(page, "worklist-of-counts");
  await person.press("Enter");
  await expect(page.getByRole("heading", { name: "T-0002 · Vat 2" })).toBeVisible();
  await person.press("F7");
  await expect(page.getByText("Counting.", { exact: true })).toBeVisible();
  await (await Keypad.of(page)).type("111");
  await expectFigure(page, "stored", 3);
  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await expect(page.getByText(/Was field 1 counted to its end/)).toBeVisible();
  await person.press("1");
  await expect
    .poll(
      async () => (await callFrom(page, "counts.list", {})).find(({ sample }) => sample === "Vat 2")?.state,
    )
    .toBe("closed");

  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Summary" }).first());
  await person.tabTo(person.field("Job"));
  await page.keyboard.type("hill brewery");
  await person.press("Enter");
  const table = page.getByRole("table", { name: "Job “hill brewery”" });
  await expect(table.getByRole("row")).toHaveCount(21);
  await expect(table.getByRole("row", { name: /T-0002/ })).toContainText("density");
  await expect(table.getByRole("row", { name: /T-0003/ })).toContainText("nothing counted yet");
});
