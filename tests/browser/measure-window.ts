import { type BrowserContext, expect, type Page } from "@playwright/test";
import type { ProgramUnderTest } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { type ReadyBench, type ReadyBenchOptions, readyBench } from "./ready-bench.ts";

interface PersonAtWindow {
  readonly window: BenchWindow;
  readonly page: Page;
  readonly person: KeyboardPerson;
}

/** A window that shows what `prepare` made by calls, and somebody at its keyboard. */
export async function openPreparedWindow<T>(
  context: BrowserContext,
  program: ProgramUnderTest,
  prepare: (page: Page) => Promise<T>,
  timeoutMs = 30_000,
): Promise<PersonAtWindow & { readonly made: T }> {
  const window = await openBenchWindow(context, program.address);
  const { page } = window;
  page.setDefaultTimeout(timeoutMs);
  const made = await prepare(page);
  await page.reload();
  await page.locator("main").waitFor();
  return { window, page, person: new KeyboardPerson(page), made };
}

/** Ends the program. What the window says once its program is gone is no fault. */
export async function endWithoutFaults(window: BenchWindow, program: ProgramUnderTest): Promise<void> {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
}

export interface MeasureWindow extends PersonAtWindow {
  readonly bench: ReadyBench;
}

export interface MeasureWindowOptions extends ReadyBenchOptions {
  /** What else is on the bench before the sheet is opened. */
  readonly prepare?: (page: Page, bench: ReadyBench) => Promise<void>;
  /** Rows on the sheet, as `enterRows` takes them. */
  readonly rows?: string;
}

/** A window on the open sheet of a ready bench, its train confirmed, the cursor on the first reading. */
export async function openMeasureWindow(
  context: BrowserContext,
  program: ProgramUnderTest,
  { prepare, rows, ...options }: MeasureWindowOptions = {},
): Promise<MeasureWindow> {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  const { made: bench, ...opened } = await openPreparedWindow(context, program, async (page) => {
    const ready = await readyBench(page, options);
    await prepare?.(page, ready);
    if (rows !== undefined) await enterRows(page, ready.sheetId, rows);
    return ready;
  });
  await openSheet(opened.page, opened.person);
  return { ...opened, bench };
}

/** Opens a sheet by keyboard; the question for the train stands. `number` names one of several, such as `S-0002`. */
export async function goToSheet(page: Page, person: KeyboardPerson, number = ""): Promise<void> {
  await page.getByRole("heading").first().waitFor();
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: `Measure on sheet ${number}` }));
  await page.getByRole("grid").waitFor();
}

/** Opens a sheet by keyboard and says that the train is so. */
export async function openSheet(page: Page, person: KeyboardPerson, number?: string): Promise<void> {
  await goToSheet(page, person, number);
  const question = page.getByRole("region", { name: "Confirm the train" });
  await expect(question).not.toBeEmpty();
  await person.press("Enter");
  await expect(question).toBeEmpty();
}

/** Less than a part of a staged block may hold. */
const CHARACTERS_OF_A_PART = 190_000;

/** Rows on the sheet: tab-separated label, left and right edge, taken in as a block. */
export async function enterRows(page: Page, sheetId: string, text: string): Promise<void> {
  const blockId = newRequest();
  for (let part = 1; (part - 1) * CHARACTERS_OF_A_PART < text.length; part += 1) {
    const from = (part - 1) * CHARACTERS_OF_A_PART;
    const staged = text.slice(from, from + CHARACTERS_OF_A_PART);
    await callFrom(page, "rows.stageBlock", { sheetId, blockId, part, text: staged });
  }
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

const ELSEWHERE = "https://elsewhere.test/";
const others = new WeakMap<BrowserContext, Promise<Page>>();

/** Another program on the same machine, which may read the clipboard; the program itself may only write to it. */
function otherProgram(context: BrowserContext): Promise<Page> {
  const open = async (): Promise<Page> => {
    await context.route(ELSEWHERE, (route) => route.fulfill({ contentType: "text/html", body: "" }));
    const page = await context.newPage();
    await page.goto(ELSEWHERE);
    return page;
  };
  const page = others.get(context) ?? open();
  others.set(context, page);
  return page;
}

export async function clipboardText(page: Page): Promise<string> {
  return (await otherProgram(page.context())).evaluate(() => navigator.clipboard.readText());
}

/** Copies and reads what is in the clipboard then. */
export async function copy(page: Page): Promise<string> {
  await page.evaluate(() => navigator.clipboard.writeText("nothing copied"));
  await page.keyboard.press("Control+c");
  const read = () => clipboardText(page);
  await expect.poll(read).not.toBe("nothing copied");
  return read();
}
