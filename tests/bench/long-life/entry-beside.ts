import { readdirSync, statSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { randomIds } from "#main/ports/ids.ts";
import { finishedExport } from "../../support/finished-export.ts";
import { printTable, threeFigures } from "../print-table.ts";
import { printBudgets, withBeat } from "./budgets.ts";
import { type OpenYears, openYears } from "./open-years.ts";
import { keyRow, type TenYears } from "./ten-years.ts";
import { timedVerify } from "./verify-lines.ts";

/** Five rows a second, two readings each. */
const ROW_EVERY_MS = 200;
/** Six hundred answers, so that the 99th of a hundred is no chance finding; short work is done again until then. */
const AT_LEAST_MS = 60_000;

interface Beside {
  readonly seconds: number;
  readonly readings: number;
  readonly p50: number;
  readonly p99: number;
  readonly most: number;
  /** Largest -wal file seen, bytes. */
  readonly wal: number;
}

const at = (rising: readonly number[], share: number): number =>
  rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;

/** Keys rows at the pace of a quick person while `work` goes on. */
async function enterBeside(
  { call }: OpenYears,
  { paths, sheetId }: TenYears,
  work: Promise<unknown>,
): Promise<Beside> {
  let over = false;
  const ended = work.finally(() => {
    over = true;
  });
  ended.catch(() => undefined);
  const answers: number[] = [];
  const timed: OpenYears["call"] = async (name, input) => {
    const begun = performance.now();
    const output = await call(name, input);
    answers.push(performance.now() - begun);
    return output;
  };
  const start = performance.now();
  let wal = 0;
  for (let row = 0; !over; row += 1) {
    await keyRow(timed, sheetId, row);
    wal = Math.max(wal, statSync(`${paths.databaseFile}-wal`, { throwIfNoEntry: false })?.size ?? 0);
    await Promise.race([pause(ROW_EVERY_MS), ended]);
  }
  await ended;
  const rising = answers.sort((a, b) => a - b);
  return {
    seconds: (performance.now() - start) / 1000,
    readings: rising.length,
    p50: at(rising, 0.5),
    p99: at(rising, 0.99),
    most: at(rising, 1),
    wal,
  };
}

/** Work done again and again until it has gone on long enough. */
async function lasting(work: () => Promise<unknown>): Promise<void> {
  const end = performance.now() + AT_LEAST_MS;
  do await work();
  while (performance.now() < end);
}

async function exported({ call }: OpenYears): Promise<void> {
  const sheets = (await call("sheets.list", {})).slice(0, 20).map(({ id }) => id);
  const input = { sheetIds: sheets, format: "values workbook", paper: "A4" } as const;
  await finishedExport({ call }, await call("exports.begin", input));
}

const backedUp = async ({ call }: OpenYears): Promise<string> =>
  (await call("backups.make", { requestId: randomIds.next() })).fileName;

/** What goes on beside entry; each is begun with what it needs made before the clock runs. */
type Work = (opened: OpenYears) => Promise<() => Promise<unknown>>;

export const WORKS: Readonly<Record<string, { readonly words: string; readonly prepare: Work }>> = {
  backups: {
    words: "backups, with the older made small",
    prepare: async (opened) => () => backedUp(opened),
  },
  checks: {
    words: "looking inside the newest backup and an older one",
    async prepare(opened) {
      const older = await backedUp(opened);
      const newest = await backedUp(opened);
      return async () => {
        for (const fileName of [newest, older]) await opened.call("backups.check", { fileName });
      };
    },
  },
  verify: { words: "verify", prepare: async (opened) => () => timedVerify(opened) },
  exports: { words: "workbooks of 20,000 rows", prepare: async (opened) => () => exported(opened) },
};

/** The first row of a day has the bench copied: that is over before anything is measured. */
async function firstRow(opened: OpenYears, ten: TenYears): Promise<void> {
  await keyRow(opened.call, ten.sheetId, 0);
  const copying = (): boolean =>
    readdirSync(ten.paths.backupFolder).some((name) => name.endsWith(".partial"));
  let quiet = 0;
  while (quiet < 10) {
    await pause(ROW_EVERY_MS);
    quiet = copying() ? 0 : quiet + 1;
  }
}

/** A reading's answer beside one kind of long work, and before and after it with nothing beside. */
export async function measureBeside(ten: TenYears, name: string): Promise<void> {
  const work = WORKS[name];
  if (!work) throw new Error(`there is no work ${name}`);
  const opened = await openYears(ten);
  try {
    await withBeat("the day’s first row, with its copy", firstRow(opened, ten));
    const run = await withBeat("making what it needs", work.prepare(opened));
    const lines: (readonly [string, Beside])[] = [];
    for (const [words, go] of [
      ["nothing", () => pause(AT_LEAST_MS)],
      [work.words, () => lasting(run)],
      ["nothing, once more", () => pause(AT_LEAST_MS)],
    ] as const) {
      lines.push([words, await withBeat(words, enterBeside(opened, ten, go()))]);
    }
    printTable(
      [
        "a reading to its answer, beside",
        "s",
        "readings",
        "p50, ms",
        "p99, ms",
        "most, ms",
        "-wal at most, MiB",
      ],
      lines.map(([words, { seconds, readings, p50, p99, most, wal }]) => [
        words,
        threeFigures(seconds),
        String(readings),
        ...[p50, p99, most].map(threeFigures),
        threeFigures(wal / 2 ** 20),
      ]),
    );
    const [before, beside, after] = lines.map(([, found]) => found) as [Beside, Beside, Beside];
    printBudgets([
      {
        what: `p99 beside ${work.words}`,
        measured: beside.p99 / ((before.p99 + after.p99) / 2),
        unit: "× alone (mean of both)",
        most: 2,
      },
      { what: "-wal file at most", measured: beside.wal / 2 ** 20, unit: "MiB", most: 64 },
    ]);
  } finally {
    await opened.program.close();
  }
}
