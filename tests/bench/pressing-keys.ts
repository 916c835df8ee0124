import { randomUUID } from "node:crypto";
import type { Browser, Page } from "@playwright/test";
import type { CountingAct } from "#core/contract/records/count.ts";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { randomIds } from "#main/ports/ids.ts";
import { startLoopbackProgram } from "../support/loopback-program.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { launchTestBrowser } from "../support/test-browser.ts";
import { printTable, threeFigures } from "./print-table.ts";

const BEHIND = [100, 10_000, 100_000] as const;
const FIELD_EVERY = 250;
const PRESSES = 400;
const GAP_MS = 50;
const BUDGET = { p95: 8, p99: 16 } as const;
const TOGETHER = 500;

function actAt(at: number): CountingAct {
  const common = { requestId: randomUUID(), waitedMs: 0 };
  if (at % FIELD_EVERY === FIELD_EVERY - 1) return { kind: "field", ...common, position: null };
  const category = at % 7 === 0 ? "stained" : "unstained";
  return { kind: "press", ...common, category, weight: "1", rowId: null };
}

/** A count with so many acts behind it, all of them invented; paused, so that the window goes on with it. */
async function seedCount(bench: TempBench, countMethodId: string, acts: number): Promise<void> {
  const { id: countId } = await bench.call("counts.open", {
    requestId: randomUUID(),
    position: null,
    count: {
      sample: `${acts} behind`,
      note: "",
      countMethodId,
      train: null,
      categories: HAEMOCYTOMETER.categories,
      inputs: HAEMOCYTOMETER.suggestedInputs,
      batch: "",
    },
  });
  for (let at = 0; at < acts; at += TOGETHER) {
    const part = Array.from({ length: Math.min(TOGETHER, acts - at) }, (_, i) => actAt(at + i));
    await bench.call("counts.pressMany", { countId, acts: part });
  }
  await bench.call("counts.pause", { requestId: randomUUID(), countId });
}

async function seededBench(): Promise<TempBench> {
  const bench = await tempBench({ ids: randomIds });
  const person = await bench.call("people.register", {
    requestId: randomUUID(),
    person: { name: "Bench", initials: "B", interpupillaryMm: "" },
  });
  await bench.call("people.choose", { personId: person.id });
  const method = await bench.call("countMethods.define", {
    requestId: randomUUID(),
    familyId: null,
    definition: HAEMOCYTOMETER,
  });
  for (const acts of BEHIND) await seedCount(bench, method.id, acts);
  await bench.program.close();
  return bench;
}

interface Timed {
  /** Main-thread work from key to laid-out echo, ms, rising. */
  readonly times: readonly number[];
  /** Presses whose own count had changed when the work was done. */
  readonly echoes: number;
  /** Tasks of 50 ms and more while counting: results follow in tasks of their own. */
  readonly longTasks: readonly number[];
}

/** Presses keys in the window at twenty a second. */
function timePresses(page: Page): Promise<Timed> {
  return page.evaluate(
    async ([presses, gap]) => {
      const counted = document.querySelector("[data-category='unstained']");
      if (!counted) throw new Error("no pad");
      const longTasks: number[] = [];
      const observer = new PerformanceObserver((list) => {
        for (const { duration } of list.getEntries()) longTasks.push(duration);
      });
      observer.observe({ type: "longtask" });
      const times: number[] = [];
      let echoes = 0;
      for (let at = 0; at < presses; at += 1) {
        const before = counted.textContent;
        const start = performance.now();
        document.body.dispatchEvent(
          new KeyboardEvent("keydown", { key: "1", code: "Numpad1", bubbles: true, cancelable: true }),
        );
        // The echo is drawn in a microtask of the same task.
        await Promise.resolve();
        counted.getBoundingClientRect();
        document.body.offsetHeight;
        times.push(performance.now() - start);
        if (counted.textContent !== before) echoes += 1;
        await new Promise((resolve) => setTimeout(resolve, gap));
      }
      observer.disconnect();
      return { times: times.sort((a, b) => a - b), echoes, longTasks };
    },
    [PRESSES, GAP_MS] as const,
  );
}

const quantile = (rising: readonly number[], share: number): number =>
  rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;

interface SizeTimes extends Timed {
  readonly openedIn: number;
  /** All main-thread work for each press, ms of CPU: echo, sending, answer and results together. */
  readonly allWork: number;
}

async function timedCount(browser: Browser, address: string, acts: number): Promise<SizeTimes> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.goto(address);
  await page.getByText("At the bench", { exact: false }).first().waitFor({ state: "attached" });
  await page.locator("main h1").waitFor();
  await page.keyboard.press("Alt+4");
  const go = page.getByRole("button", { name: new RegExp(`^Open count .*, ${acts} behind$`) });
  await go.waitFor();
  const start = performance.now();
  await go.click();
  await page.getByText(/F7 resumes at field/).waitFor();
  const openedIn = performance.now() - start;
  await page.keyboard.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
  const session = await page.context().newCDPSession(page);
  // Time of this thread alone: what else the machine does meanwhile is not counted.
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  const worked = async (): Promise<number> => {
    const { metrics } = await session.send("Performance.getMetrics");
    return (metrics.find(({ name }) => name === "TaskDuration")?.value ?? 0) * 1000;
  };
  const before = await worked();
  const timed = await timePresses(page);
  const allWork = ((await worked()) - before) / PRESSES;
  await page.locator("[data-figure='stored']", { hasText: String(acts + PRESSES) }).waitFor();
  await page.close();
  return { ...timed, openedIn, allWork };
}

/**
 * What a press costs with ever more presses behind it, in Chromium, at twenty a second: main-thread work from the key to
 * its laid-out echo, with the ratio to the smallest count. The budget is 8 ms for 95 of 100 presses.
 */
export async function benchPressingKeys(): Promise<void> {
  const bench = await seededBench();
  const program = await startLoopbackProgram({ folder: bench.paths.dataFolder });
  const browser = await launchTestBrowser();
  try {
    const rows: string[][] = [];
    let baseline: number | null = null;
    for (const acts of BEHIND) {
      const address = rows.length === 0 ? program.address : program.freshAddress();
      const { times, echoes, longTasks, openedIn, allWork } = await timedCount(browser, address, acts);
      const [p50, p95, p99] = [quantile(times, 0.5), quantile(times, 0.95), quantile(times, 0.99)];
      baseline ??= p95;
      rows.push([
        `${acts.toLocaleString("en-GB")} acts behind`,
        threeFigures(p50),
        threeFigures(p95),
        threeFigures(p99),
        threeFigures(p95 / baseline),
        p95 <= BUDGET.p95 && p99 <= BUDGET.p99 ? "yes" : "NO",
        `${echoes} of ${PRESSES}`,
        threeFigures(allWork),
        String(longTasks.length),
        threeFigures(openedIn),
      ]);
    }
    printTable(
      [
        "presses in the window",
        "p50, ms",
        "p95, ms",
        "p99, ms",
        "p95 ratio",
        "within budget",
        "echoes",
        "all work (CPU), ms",
        "tasks ≥ 50 ms",
        "opened in, ms",
      ],
      rows,
    );
  } finally {
    await browser.close();
    await program.stop();
    await bench.end();
  }
}
