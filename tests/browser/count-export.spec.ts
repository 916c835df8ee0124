import { readFileSync } from "node:fs";
import { expect, test } from "@playwright/test";
import { EGGS_MCMASTER } from "#core/counting/methods/ready-bench-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { seededCount } from "./count-keys.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";
import { savedCopy } from "./saved-copy.ts";

let program: ProgramUnderTest;
let window: BenchWindow;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  window.page.setDefaultTimeout(30_000);
  await readyBench(window.page);
});
test.afterEach(async () => {
  // What the window says once its program is gone is no fault.
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

test("a closed count is handed over from its page by keyboard, and the file saved holds every press", async () => {
  test.slow();
  const { page } = window;
  const person = new KeyboardPerson(page);
  const countId = await seededCount(page, EGGS_MCMASTER);
  const act = {
    kind: "press" as const,
    requestId: crypto.randomUUID(),
    category: "strongyles",
    weight: "23",
    rowId: null,
    waitedMs: 0,
  };
  await callFrom(page, "counts.press", { countId, act });
  await callFrom(page, "counts.close", {
    requestId: crypto.randomUUID(),
    countId,
    lastFieldCounted: true,
  });
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /T-0001/ }).first());
  await page.getByRole("heading", { name: "Export", exact: true }).waitFor();
  await person.activate(page.getByRole("button", { name: "JSON with every press" }));
  await expect(page.getByText(/^Written: /)).toBeVisible();
  const document = JSON.parse(readFileSync((await savedCopy(page)).path, "utf8"));
  expect(document.events).toHaveLength(1);
  expect(document.results.total).toBe("23");
  await person.activate(page.getByRole("button", { name: "Workbook" }));
  await expect(page.getByText(/Written: T-0001\.xlsx/)).toBeVisible();
});
