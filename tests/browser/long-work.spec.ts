import { copyFileSync } from "node:fs";
import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { savedCopy } from "./saved-copy.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: LoopbackProgram;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

const ROWS = 60;

async function benchWithRows(at: Page): Promise<unknown> {
  const { sheetId } = await readyBench(at);
  for (let row = 1; row <= ROWS; row += 1) {
    for (const [edge, typed] of [
      ["left", "10"],
      ["right", `${30 + row}`],
    ] as const) {
      await callFrom(at, "rows.enter", {
        requestId: newRequest(),
        sheetId,
        rowId: `row-${row}`,
        cell: { dimension: "length", edge },
        typed,
        label: "Tilia",
      });
    }
  }
  return null;
}

test.beforeEach(async ({ context }) => {
  program = await startLoopbackProgram();
  const opened = await openPreparedWindow(context, program, benchWithRows, 60_000);
  ({ window, page, person } = opened);
});
test.afterEach(() => endWithoutFaults(window, program));

/** Holds the answer of one call back, so that a small bench is as slow as a large one. */
async function held(call: string): Promise<() => void> {
  const { promise, resolve } = Promise.withResolvers<void>();
  await page.route(
    (url) => url.pathname.endsWith(`/${call}`),
    async (route) => {
      await promise;
      await route.continue();
    },
  );
  return resolve;
}

const tab = async (name: string): Promise<void> =>
  person.activate(
    page.getByRole("button", { name, exact: true }).or(page.getByRole("tab", { name, exact: true })),
  );

test("a backup is made, looked into and stopped, by keyboard, with the outcome where it was asked for", async () => {
  await person.go("records");
  await tab("Backups");
  const panel = page.getByRole("region", { name: "Backups" });
  const make = page.getByRole("button", { name: "Make a backup now" });
  let goOn = await held("backups.make");
  await person.activate(make);
  await expect(panel.getByRole("progressbar", { name: "Making a backup" })).toBeVisible();
  await seenInBothThemes(page, "backup-under-way");
  await person.activate(panel.getByRole("button", { name: "Stop" }));
  goOn();
  await expect(panel.getByText("The backup was stopped: no copy was kept.")).toBeVisible();
  await expect(page.getByRole("progressbar")).toHaveCount(0);
  await expect(page.getByText("No backup yet.")).toBeVisible();
  await person.activate(make);
  await expect(panel.getByText(/^Made: bench-/)).toBeVisible();

  goOn = await held("backups.check");
  await person.activate(page.getByRole("button", { name: /^Look inside / }));
  const looking = page.getByRole("progressbar", { name: "Looking inside" });
  await expect(looking).toBeVisible();
  await person.activate(page.getByRole("button", { name: "Stop" }));
  goOn();
  await expect(page.getByText("Looking inside was stopped.")).toBeVisible();
  await expect(looking).toHaveCount(0);
  await person.activate(page.getByRole("button", { name: /^Look inside / }));
  await expect(page.getByText("Lines of the trail")).toBeVisible();
  await seenInBothThemes(page, "backup-looked-into");
});

test("the check of a file that came back shows how far it is and can be stopped", async () => {
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Workbook of S-0001 with formulas" }));
  await expect(page.getByText(/^Written: S-0001\.xlsx/)).toBeVisible({ timeout: 60_000 });
  const path = join(program.folder, "came-back.xlsx");
  copyFileSync((await savedCopy(page)).path, path);
  await tab("Export and check");
  const goOn = await held("exchange.check");
  const picker = page.getByLabel("Choose a workbook or a JSON file, or drop it here");
  await picker.setInputFiles(path);
  await expect(page.getByRole("progressbar", { name: "Checking came-back.xlsx" })).toBeVisible();
  await seenInBothThemes(page, "check-under-way");
  await person.activate(page.getByRole("button", { name: "Stop" }));
  goOn();
  await expect(page.getByText("Checking was stopped before it was finished.")).toBeVisible();
  await picker.setInputFiles(path);
  await expect(page.getByText("came-back.xlsx: unchanged")).toBeVisible({ timeout: 60_000 });
});

test("a new sheet names its customer, who then heads the report", async () => {
  await person.go("measure");
  await person.fillAll({ Sample: "Heather honey", Customer: "Moor Apiary" });
  await person.activate(page.getByRole("button", { name: "Open the sheet" }));
  await expect(page.getByText(/S-0002 · Heather honey/).first()).toBeVisible();
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  const report = page.getByRole("article");
  await expect(report.getByText("Customer", { exact: true })).toBeVisible();
  await expect(report.getByText("Moor Apiary", { exact: true })).toBeVisible();
  await seenInBothThemes(page, "report-with-customer");
});
