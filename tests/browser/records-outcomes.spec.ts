import { expect, type Page, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: LoopbackProgram;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

/** A sheet with three rows, closed by calls. */
async function closedSheet(at: Page): Promise<{ readonly sha256: string }> {
  const { sheetId } = await readyBench(at);
  for (const [row, right] of [
    ["row-1", "50"],
    ["row-2", "52.5"],
    ["row-3", "19"],
  ] as const) {
    for (const [edge, typed] of [
      ["left", "10"],
      ["right", right],
    ] as const) {
      await callFrom(at, "rows.enter", {
        requestId: newRequest(),
        sheetId,
        rowId: row,
        cell: { dimension: "length", edge },
        typed,
        label: "Tilia",
      });
    }
  }
  const { signOffs } = await callFrom(at, "sheets.close", { requestId: newRequest(), sheetId, words: "" });
  return { sha256: signOffs[0]?.dataSha256 ?? "" };
}

let sha256 = "";
test.beforeEach(async ({ context }) => {
  program = await startLoopbackProgram();
  const opened = await openPreparedWindow(context, program, closedSheet, 60_000);
  ({ window, page, person } = opened);
  ({ sha256 } = opened.made);
  await person.go("records");
});
test.afterEach(() => endWithoutFaults(window, program));

test("a workbook asked for in the list of sheets answers in the line of its sheet", async () => {
  await person.activate(page.getByRole("button", { name: "Workbook of S-0001 with formulas" }));
  const line = page.getByRole("row", { name: /S-0001/ });
  await expect(line.getByText(/^Written: S-0001\.xlsx/)).toBeVisible({ timeout: 60_000 });
  await seenInBothThemes(page, "sheet-exported");
});

test("closing and report name one fingerprint, and the report says what each covers", async () => {
  await person.activate(page.getByRole("button", { name: "Report of S-0001" }));
  const report = page.getByRole("article");
  await expect(
    report.getByText(/^Closed by Ada Example, .*Fingerprint of rows and results as printed here/),
  ).toBeVisible();
  await expect(report.getByText(sha256, { exact: true })).toBeVisible();
  await expect(report.getByText("1 measurement: few divisions.")).toBeVisible();
  await expect(report.getByText(/UTC/).first()).toBeVisible();
  await expect(report).not.toContainText("few-divisions");
});

test("Verify says what came of it, and Backups says only what was made", async () => {
  const tab = async (name: string) =>
    person.activate(
      page.getByRole("button", { name, exact: true }).or(page.getByRole("tab", { name, exact: true })),
    );
  await tab("Verify");
  await person.activate(page.getByRole("button", { name: "Verify now" }));
  await expect(page.getByText("Everything agrees.")).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText(/does not compute the hashes of lines 1 to \d+ again/)).toBeVisible();
  await person.activate(page.getByRole("button", { name: /^Go on from line \d+$/ }));
  await expect(page.getByText("Everything that was looked at agrees.")).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText(/0 lines of the audit trail were recomputed/)).toBeVisible();
  await expect(page.getByRole("button", { name: "Verify the whole" })).toBeVisible();
  await person.fill("Text with lines and their hashes", "Audit trail up to 3:00000000");
  await person.activate(page.getByRole("button", { name: "Compare with the trail" }));
  await expect(page.getByText(/^History was written anew somewhere from line 1 to line 3/)).toBeVisible();
  await tab("Backups");
  await expect(page.getByText(/None has been made yet\./)).toBeVisible();
  await person.activate(page.getByRole("button", { name: "Make a backup now" }));
  await expect(page.getByText(/^Made: bench-/)).toBeVisible();
});
