import { expect, type Page, test } from "@playwright/test";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { seededCount } from "./count-keys.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openPreparedWindow, openSheet } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let sheetId: string;

/** Longer than a window waits before it asks what others have done. */
const TOLD_WITHIN = { timeout: 15_000 };

test.use({ screenshot: "only-on-failure" });

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  const opened = await openPreparedWindow(context, program, readyBench, 60_000);
  ({ window, page, person } = opened);
  ({ sheetId } = opened.made);
});

test.afterEach(() => endWithoutFaults(window, program));

async function openReport(): Promise<void> {
  await person.go("records");
  await person.activate(page.getByRole("button", { name: /^Report of / }));
  await page.getByRole("article").waitFor();
}

test("a report that was looked at once shows the rows that were read after it", async () => {
  await openReport();
  await openSheet(page, person, "S-0001");
  await person.take("10", "50", "12", "51");
  await person.expectStored(2);
  await openReport();
  await expect(page.getByRole("article").getByRole("row", { name: /All/ })).toContainText("2");
});

test("what another window does shows here without a key pressed: a row in the report, a count in its list", {
  tag: "@loopback",
}, async ({ context }) => {
  await openReport();
  const other = await openBenchWindow(context, program.freshAddress());
  const enterFromThere = async (edge: "left" | "right", typed: string): Promise<void> => {
    await callFrom(other.page, "rows.enter", {
      requestId: newRequest(),
      sheetId,
      rowId: "row-of-the-other-window",
      cell: { dimension: "length", edge },
      typed,
      label: "",
    });
  };
  await enterFromThere("left", "10");
  await enterFromThere("right", "50");
  await expect(page.getByRole("article").getByRole("row", { name: /^All .* 1 / })).toBeVisible(TOLD_WITHIN);

  await new KeyboardPerson(page).go("count");
  const countId = await seededCount(other.page, POLLEN_MARKER);
  await expect(page.getByRole("row", { name: /counting/ })).toBeVisible(TOLD_WITHIN);
  await callFrom(other.page, "counts.pause", { requestId: newRequest(), countId });
  await expect(page.getByRole("row", { name: /paused/ })).toBeVisible(TOLD_WITHIN);
  expect(other.faults).toEqual([]);
});
