import { type BrowserContext, expect, type Page } from "@playwright/test";
import type { LoopbackProgram } from "../support/loopback-program.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { type ReadyBench, type ReadyBenchOptions, readyBench } from "./ready-bench.ts";

export interface MeasureWindow {
  readonly window: BenchWindow;
  readonly page: Page;
  readonly person: KeyboardPerson;
  readonly bench: ReadyBench;
}

export interface MeasureWindowOptions extends ReadyBenchOptions {
  /** What else is on the bench before the sheet is opened. */
  readonly prepare?: (page: Page, bench: ReadyBench) => Promise<void>;
}

/** A window on the open sheet of a ready bench, its train confirmed, the cursor on the first reading. */
export async function openMeasureWindow(
  context: BrowserContext,
  program: LoopbackProgram,
  { prepare, ...options }: MeasureWindowOptions = {},
): Promise<MeasureWindow> {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  const window = await openBenchWindow(context, program.address);
  const { page } = window;
  page.setDefaultTimeout(30_000);
  const bench = await readyBench(page, options);
  await prepare?.(page, bench);
  await page.reload();
  const person = new KeyboardPerson(page);
  await openSheet(page, person);
  return { window, page, person, bench };
}

/** Opens the sheet by keyboard and says that the train is so. */
export async function openSheet(page: Page, person: KeyboardPerson): Promise<void> {
  await page.getByRole("heading").first().waitFor();
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: /Measure on sheet/ }));
  await page.getByRole("grid").waitFor();
  const question = page.getByRole("region", { name: "Confirm the train" });
  await expect(question).not.toBeEmpty();
  await person.press("Enter");
  await expect(question).toBeEmpty();
}

/** Rows on the sheet: tab-separated label, left and right edge, taken in as a block. */
export async function enterRows(page: Page, sheetId: string, text: string): Promise<void> {
  const blockId = newRequest();
  await callFrom(page, "rows.stageBlock", { sheetId, blockId, part: 1, text });
  await callFrom(page, "rows.enterBlock", {
    requestId: newRequest(),
    block: {
      sheetId,
      blockId,
      columns: [
        { kind: "label" },
        { kind: "reading", cell: { dimension: "length", edge: "left" } },
        { kind: "reading", cell: { dimension: "length", edge: "right" } },
      ],
      skipFirstLine: false,
      startAt: null,
      excluded: [],
      corrections: [],
    },
  });
}

/** Puts text in the clipboard as another program would, and pastes it. */
export async function paste(page: Page, text: string): Promise<void> {
  await page.evaluate((copied) => navigator.clipboard.writeText(copied), text);
  await page.keyboard.press("Control+v");
}

/** Copies and reads what is in the clipboard then. */
export async function copy(page: Page): Promise<string> {
  await page.evaluate(() => navigator.clipboard.writeText("nothing copied"));
  await page.keyboard.press("Control+c");
  const read = () => page.evaluate(() => navigator.clipboard.readText());
  await expect.poll(read).not.toBe("nothing copied");
  return read();
}
