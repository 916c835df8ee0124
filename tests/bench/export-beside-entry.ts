import { randomUUID } from "node:crypto";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { setTimeout as pause } from "node:timers/promises";
import { EXPORT_FORMATS, type ExportFormat } from "#core/contract/records/exchange.ts";
import { type Filled, fill } from "./entering.ts";
import { printTable, threeFigures } from "./print-table.ts";

const ROWS = 100_000;
/** Quicker than anybody reads and types, so that enough readings fall into one export. */
const BETWEEN_MS = 25;
const ALONE_MS = 8000;

interface Watched {
  readonly seconds: number;
  /** Answers to single readings, rising, ms. */
  readonly entered: readonly number[];
  /** How late the host's loop came round, ms. */
  readonly late: readonly [p50: number, p99: number, most: number];
}

function at(rising: readonly number[], share: number): number {
  return rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;
}

/** Takes readings one after the other while `work` goes on, and watches the loop they share. */
async function enterWhile({ bench, scene }: Filled, work: Promise<unknown>): Promise<Watched> {
  let over = false;
  const ended = work.finally(() => {
    over = true;
  });
  const delay = monitorEventLoopDelay({ resolution: 1 });
  delay.enable();
  const start = performance.now();
  const entered: number[] = [];
  for (let n = 0; !over; n += 1) {
    const begun = performance.now();
    await bench.call("rows.enter", {
      requestId: randomUUID(),
      sheetId: scene.sheet.id,
      rowId: `beside-${Math.floor(start)}-${n >> 1}`,
      cell: { dimension: "length", edge: n % 2 === 0 ? "left" : "right" },
      typed: n % 2 === 0 ? "10.5" : "42.0",
      label: "Taxon 1",
    });
    entered.push(performance.now() - begun);
    await pause(BETWEEN_MS);
  }
  await ended;
  delay.disable();
  const ms = (nanoseconds: number): number => nanoseconds / 1e6;
  return {
    seconds: (performance.now() - start) / 1000,
    entered: entered.sort((a, b) => a - b),
    late: [ms(delay.percentile(50)), ms(delay.percentile(99)), ms(delay.max)],
  };
}

async function exported({ bench, scene }: Filled, format: ExportFormat): Promise<void> {
  const begun = await bench.call("exports.begin", { sheetIds: [scene.sheet.id], format, paper: "A4" });
  for (let now = begun; now?.state === "writing"; ) {
    await pause(100);
    now = await bench.call("exports.status", { exportId: now.exportId });
    if (now.state === "failed") throw new Error(now.trouble?.message ?? "the export failed");
  }
}

/** What single readings and the host's loop feel of an export of a long sheet, against the same without one. */
export async function benchExportBesideEntry(): Promise<void> {
  const filled = await fill(ROWS);
  try {
    const alone = await enterWhile(filled, pause(ALONE_MS));
    const watched: [string, Watched][] = [["no export", alone]];
    for (const format of EXPORT_FORMATS) {
      watched.push([format, await enterWhile(filled, exported(filled, format))]);
    }
    const base = at(alone.entered, 0.99);
    printTable(
      [
        `entering beside an export of ${ROWS.toLocaleString("en-GB")} rows`,
        "s",
        "readings",
        "answer p50, ms",
        "p99, ms",
        "most, ms",
        "p99 to no export",
        "loop late p50, ms",
        "p99, ms",
        "most, ms",
      ],
      watched.map(([name, { seconds, entered, late }]) => [
        name,
        threeFigures(seconds),
        String(entered.length),
        ...[0.5, 0.99, 1].map((share) => threeFigures(at(entered, share))),
        `${threeFigures(at(entered, 0.99) / base)} ×`,
        ...late.map(threeFigures),
      ]),
    );
  } finally {
    await filled.bench.end();
  }
}
