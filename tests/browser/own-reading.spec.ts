import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { normalFrom } from "../support/seeded-normal.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  person = new KeyboardPerson(page);
});
test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

const button = (name: string | RegExp) => page.getByRole("button", { name });

test("a reader sees by keys which tenths are favoured and how far another one is; the next person does not", async () => {
  const { sheetId } = await readyBench(page);
  const normal = normalFrom(11);
  const rowIds = Array.from({ length: 60 }, (_, at) => `row-${at + 1}`);
  const enter = async (rowId: string, edge: "left" | "right", typed: string) =>
    callFrom(page, "rows.enter", {
      requestId: newRequest(),
      sheetId,
      rowId,
      label: "grain",
      cell: { dimension: "length", edge },
      typed,
    });
  for (const rowId of rowIds) {
    await enter(rowId, "left", "10");
    // Every right edge is drawn to a line or to the middle between two.
    await enter(rowId, "right", (Math.round(2 * (45 + 3 * normal())) / 2).toFixed(1));
  }
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("practice");
  await person.activate(button("Your reading"));
  await expect(page.getByText("Only Ada Example, now at the bench, is shown here.")).toBeVisible();
  await expect(page.getByText(/^Of 60 readings, you read \.[05], \.[05] more often/)).toBeVisible();
  const sheets = page
    .getByRole("region", { name: "Final digits by kind of work, newest work" })
    .getByRole("row", { name: /^Sheets/ });
  await expect(sheets).toContainText("60");
  await expect(button("Print")).toHaveCount(0);

  await seenInBothThemes(page, "own-digits");

  // Ben reads three of them a second time; each sees the difference with the own sign.
  const ben = await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name: "Ben Example", initials: "BE", interpupillaryMm: "" },
  });
  await callFrom(page, "people.choose", { personId: ben.id });
  await expect(page.getByText("Only Ben Example, now at the bench, is shown here.")).toBeVisible();
  await expect(page.getByText("0 readings can be tested so far; 20 are the least.")).toBeVisible();
  await expect(sheets.getByRole("cell", { name: "60" })).toHaveCount(0);
  const second = await callFrom(page, "secondReadings.start", {
    requestId: newRequest(),
    sheetId,
    choice: { kind: "rows", rowIds: rowIds.slice(0, 3) },
    note: "",
  });
  for (const [at, rowId] of rowIds.slice(0, 3).entries()) {
    for (const [edge, typed] of [
      ["left", "10"],
      ["right", `5${at}.3`],
    ] as const) {
      await callFrom(page, "secondReadings.enter", {
        requestId: newRequest(),
        secondReadingId: second.id,
        rowId,
        cell: { dimension: "length", edge },
        typed,
      });
    }
  }
  await callFrom(page, "secondReadings.close", { requestId: newRequest(), secondReadingId: second.id });
  const line = page
    .getByRole("region", { name: "You and the other reader" })
    .getByRole("row", { name: /^Sample 7, second reading 1/ });
  await expect(line).toContainText("Ada Example");
  await line.scrollIntoViewIfNeeded();
  await seenInBothThemes(page, "own-agreement");
  await person.activate(button("Open second reading 1 of Sample 7"));
  await expect(page.getByRole("heading", { name: /^Agreement of two readings · S-0001/ })).toBeVisible();
});
