import { randomUUID } from "node:crypto";
import type { Browser, CDPSession, Page } from "@playwright/test";
import type { BlockColumn } from "#core/contract/records/block.ts";
import { randomIds } from "#main/ports/ids.ts";
import { Keypad } from "../browser/keypad.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { startLoopbackProgram } from "../support/loopback-program.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { launchTestBrowser } from "../support/test-browser.ts";
import { printTable, threeFigures } from "./print-table.ts";
import { readingLines } from "./reading-lines.ts";
import { timeSelecting } from "./select-keys.ts";

/** `LINEFALL_BENCH_ROWS=100,10000` measures other sheets; the first is what the others are compared with. */
const SIZES = (process.env.LINEFALL_BENCH_ROWS ?? "100,10000,100000").split(",").map(Number);
/** Rows typed for the times of keys, and for the times of Enter. */
const ROWS = 60;
const BLOCK = 10_000;
const PART = 200_000;
const GAP_MS = 25;
const BUDGET = { p95: 8, p99: 16, enter99: 50, growth: 1.2 } as const;

const reading = (dimension: string, edge: "left" | "right"): BlockColumn => ({
  kind: "reading",
  cell: { dimension, edge, repeat: 1 },
});
const COLUMNS: readonly BlockColumn[] = [
  { kind: "label" },
  reading("length", "left"),
  reading("length", "right"),
  reading("width", "left"),
  reading("width", "right"),
];

async function fillSheet(bench: TempBench, sheetId: string, rows: number): Promise<void> {
  for (let from = 0; from < rows; from += BLOCK) {
    const text = readingLines(from, Math.min(BLOCK, rows - from));
    const blockId = randomUUID();
    for (let part = 1; (part - 1) * PART < text.length; part += 1) {
      const piece = text.slice((part - 1) * PART, part * PART);
      await bench.call("rows.stageBlock", { sheetId, blockId, part, text: piece });
    }
    await bench.call("rows.enterBlock", {
      requestId: randomUUID(),
      block: {
        sheetId,
        blockId,
        columns: [...COLUMNS],
        skipFirstLine: false,
        startAt: null,
        excluded: [],
        corrections: [],
      },
    });
  }
}

async function sheetOf(bench: TempBench, { sheet }: Scene, rows: number): Promise<void> {
  const { note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const opened = await bench.call("sheets.open", {
    requestId: randomUUID(),
    sheet: {
      sample: `${rows} rows`,
      note,
      methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId,
    },
  });
  await fillSheet(bench, opened.id, rows);
}

async function seededBench(): Promise<TempBench> {
  const bench = await tempBench({ ids: randomIds });
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene, { dueOn: "2099-01-01" });
  for (const rows of SIZES) await sheetOf(bench, scene, rows);
  await bench.program.close();
  return bench;
}

/**
 * Times every key by itself in the window. The work of a key is done in the task of its events: React draws in a
 * microtask of that task, so after the last listener a forced layout ends the measurement.
 */
async function watchKeys(page: Page): Promise<void> {
  await page.evaluate(() => {
    const times: number[] = [];
    const paints: number[] = [];
    let started = 0;
    let worked = 0;
    const after = (): void => {
      queueMicrotask(() => {
        document.body.offsetHeight;
        worked = performance.now() - started;
      });
    };
    window.addEventListener(
      "keydown",
      () => {
        const start = performance.now();
        started = start;
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => paints.push(performance.now() - start);
          port2.postMessage(null);
        });
      },
      { capture: true },
    );
    window.addEventListener("keydown", after);
    window.addEventListener("input", after);
    window.addEventListener("keyup", () => {
      if (worked > 0) times.push(worked);
      worked = 0;
    });
    Object.assign(window, { keyTimes: times, keyPaints: paints });
  });
}

interface Watched {
  readonly keyTimes: number[];
  readonly keyPaints: number[];
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const READINGS = ["10.5⏎", "41.5⏎", "3.5⏎", "17.2⏎"] as const;

/** Types whole rows at forty keys a second. */
async function typeRows(keypad: Keypad, rows: number): Promise<void> {
  for (let row = 0; row < rows; row += 1) {
    for (const key of READINGS.join("")) {
      await keypad.type(key);
      await pause(GAP_MS);
    }
  }
}

/** Milliseconds from the press of Enter until its cell shows its text as stored. */
async function timeEnter(page: Page, keypad: Keypad, rows: number): Promise<number[]> {
  const times: number[] = [];
  for (let at = 0; at < rows * READINGS.length; at += 1) {
    const keys = READINGS[at % READINGS.length] ?? "";
    await keypad.type(keys.slice(0, -1));
    const shown = page.evaluate(
      () =>
        new Promise<number>((resolve, reject) => {
          const cell = document.querySelector<HTMLElement>("[data-active-cell]");
          const row = cell?.closest("[data-row]")?.getAttribute("data-row");
          const place = `[data-row="${row}"] [data-column="${cell?.dataset.column}"]`;
          window.addEventListener(
            "keydown",
            () => {
              const start = performance.now();
              const look = new MutationObserver(() => {
                if (document.querySelector(place)?.getAttribute("data-status") !== "stored") return;
                look.disconnect();
                document.body.offsetHeight;
                resolve(performance.now() - start);
              });
              look.observe(document.querySelector("[role=grid]") ?? document.body, {
                subtree: true,
                childList: true,
                attributes: true,
                attributeFilter: ["data-status"],
              });
              setTimeout(() => reject(new Error("not acknowledged")), 10_000);
            },
            { capture: true, once: true },
          );
          Object.assign(window, { enterReady: true });
        }),
    );
    await page.waitForFunction(() => {
      const ready = (window as unknown as { enterReady?: boolean }).enterReady === true;
      Object.assign(window, { enterReady: false });
      return ready;
    });
    await keypad.type("⏎");
    times.push(await shown);
  }
  return times;
}

async function heapOf(session: CDPSession): Promise<number> {
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize } = await session.send("Runtime.getHeapUsage");
  return usedSize / 1024 / 1024;
}

/** Scrolls from the first row to the last, waiting for rows at each of 60 stops. */
async function scrollThrough(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const box = document.querySelector("[role=grid]")?.parentElement;
    if (!box) throw new Error("no grid");
    for (let stop = 0; stop <= 60; stop += 1) {
      box.scrollTop = (box.scrollHeight * stop) / 60;
      await new Promise((resolve) => setTimeout(resolve, 60));
    }
  });
}

const quantile = (times: readonly number[], share: number): number => {
  const rising = [...times].sort((a, b) => a - b);
  return rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;
};
const quantiles = (times: readonly number[]): number[] =>
  [0.5, 0.95, 0.99].map((share) => quantile(times, share));

interface SheetTimes {
  readonly openedIn: number;
  readonly keys: readonly number[];
  readonly paints: readonly number[];
  readonly enters: readonly number[];
  readonly selecting: readonly number[];
  readonly heapBefore: number;
  readonly heapAfter: number;
}

async function timedSheet(browser: Browser, address: string, rows: number): Promise<SheetTimes> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.goto(address);
  await page.locator("main h1").waitFor();
  await page.keyboard.press("Alt+3");
  const go = page.getByRole("button", { name: new RegExp(`^Measure on sheet .*, ${rows} rows$`) });
  await go.waitFor();
  const start = performance.now();
  await go.click();
  await page
    .locator(`[data-row="${rows - 1}"] [data-status="stored"]`)
    .first()
    .waitFor();
  const openedIn = performance.now() - start;
  const keypad = await Keypad.of(page);
  // A few rows first, so that no key pays for compiling the code.
  await typeRows(keypad, 5);
  await watchKeys(page);
  await typeRows(keypad, ROWS);
  const { keyTimes, keyPaints } = await page.evaluate(() => {
    const seen = window as unknown as Watched;
    return { keyTimes: seen.keyTimes, keyPaints: seen.keyPaints };
  });
  const enters = await timeEnter(page, keypad, Math.ceil(ROWS / 2));
  const selecting = await timeSelecting(page);
  const session = await page.context().newCDPSession(page);
  const heapBefore = await heapOf(session);
  await scrollThrough(page);
  const heapAfter = await heapOf(session);
  await page.close();
  return { openedIn, keys: keyTimes, paints: keyPaints, enters, selecting, heapBefore, heapAfter };
}

const named = (rows: number): string => `${rows.toLocaleString("en-GB")} rows`;

function report(found: readonly { readonly rows: number; readonly times: SheetTimes }[]): void {
  const base = found[0]?.times;
  const [, base95 = 1] = quantiles(base?.keys ?? []);
  printTable(
    ["main-thread work per key", "keys", "p50, ms", "p95, ms", "p99, ms", "p95 to 100", "within budget"],
    found.map(({ rows, times }) => {
      const [p50 = 0, p95 = 0, p99 = 0] = quantiles(times.keys);
      const isKept = p95 <= BUDGET.p95 && p99 <= BUDGET.p99 && p95 <= BUDGET.growth * base95;
      return [
        named(rows),
        String(times.keys.length),
        ...[p50, p95, p99, p95 / base95].map(threeFigures),
        isKept ? "yes" : "NO",
      ];
    }),
  );
  console.log("");
  const [, , enterBase = 1] = quantiles(base?.enters ?? []);
  const [, selectBase = 1] = quantiles(base?.selecting ?? []);
  printTable(
    ["work per key that selects", "keys", "p50, ms", "p95, ms", "p99, ms", "p95 to 100"],
    found.map(({ rows, times }) => {
      const [p50 = 0, p95 = 0, p99 = 0] = quantiles(times.selecting);
      return [
        named(rows),
        String(times.selecting.length),
        ...[p50, p95, p99, p95 / selectBase].map(threeFigures),
      ];
    }),
  );
  console.log("");
  printTable(
    [
      "Enter to stored and shown",
      "p50, ms",
      "p95, ms",
      "p99, ms",
      "p99 to 100",
      "within budget",
      "opened in, ms",
    ],
    found.map(({ rows, times }) => {
      const [p50 = 0, p95 = 0, p99 = 0] = quantiles(times.enters);
      const isKept = p99 <= BUDGET.enter99;
      return [
        named(rows),
        ...[p50, p95, p99, p99 / enterBase].map(threeFigures),
        isKept ? "yes" : "NO",
        threeFigures(times.openedIn),
      ];
    }),
  );
  console.log("");
  printTable(
    ["key to painted frame", "p50, ms", "p95, ms", "p99, ms", "heap, MB", "scrolled through, MB"],
    found.map(({ rows, times }) => [
      named(rows),
      ...quantiles(times.paints).map(threeFigures),
      threeFigures(times.heapBefore),
      threeFigures(times.heapAfter),
    ]),
  );
}

/**
 * What a key costs the window of Measure with ever more rows on the sheet, in Chromium on the real program: main-thread
 * work to the laid-out echo, Enter until the reading is on disk and shown so, the painted frame (quoted, not promised:
 * it waits for the display), opening the sheet, and the heap after scrolling through all of it.
 */
export async function benchMeasureKeys(): Promise<void> {
  const bench = await seededBench();
  const program = await startLoopbackProgram({ folder: bench.paths.dataFolder });
  const browser = await launchTestBrowser();
  try {
    const found: { rows: number; times: SheetTimes }[] = [];
    for (const rows of SIZES) {
      const address = found.length === 0 ? program.address : program.freshAddress();
      found.push({ rows, times: await timedSheet(browser, address, rows) });
    }
    report(found);
  } finally {
    await browser.close();
    await program.stop();
    await bench.end();
  }
}
