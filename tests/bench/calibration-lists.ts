import type { Page } from "@playwright/test";
import { threeFigures } from "./print-table.ts";

const RUNS = 3;

const LISTS = [
  { words: "whole records (baseline)", name: "calibrations.list", input: { trainId: null } },
  {
    words: "all of them in short (Trace)",
    name: "calibrations.summaries",
    input: { state: null, from: 0, count: 20_000 },
  },
  {
    words: "a page in short (Records)",
    name: "calibrations.summaries",
    input: { state: null, from: 0, count: 50 },
  },
  {
    words: "drafts in short (Calibrate)",
    name: "calibrations.summaries",
    input: { state: "draft", from: 0, count: 200 },
  },
] as const;

export const LIST_HEADINGS = ["lists of calibrations", "kB", "ms", "of the baseline: kB", "ms"] as const;

/** Bytes of a reply and the best time until the window has read it, ms. */
function fetched(page: Page, name: string, input: unknown): Promise<{ bytes: number; ms: number }> {
  return page.evaluate(
    async ([path, body, runs]) => {
      let [bytes, ms] = [0, Number.POSITIVE_INFINITY];
      for (let run = 0; run < runs; run += 1) {
        const start = performance.now();
        const reply = await fetch(path, {
          method: "POST",
          headers: { "content-type": "application/json" },
          body,
        });
        const text = await reply.text();
        if (!JSON.parse(text).ok) throw new Error(text.slice(0, 200));
        ms = Math.min(ms, performance.now() - start);
        bytes = text.length;
      }
      return { bytes, ms };
    },
    [`/call/${name}`, JSON.stringify(input), RUNS] as const,
  );
}

/** What the lists of a bench cost through the loopback host, each against the list of whole records. */
export async function calibrationLists(page: Page, count: number): Promise<string[][]> {
  const rows: string[][] = [];
  let whole: { bytes: number; ms: number } | null = null;
  for (const { words, name, input } of LISTS) {
    const found = await fetched(page, name, input);
    whole ??= found;
    rows.push([
      `${count.toLocaleString("en-GB")} calibrations, ${words}`,
      threeFigures(found.bytes / 1000),
      threeFigures(found.ms),
      threeFigures(found.bytes / whole.bytes),
      threeFigures(found.ms / whole.ms),
    ]);
  }
  return rows;
}
