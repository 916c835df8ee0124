import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import Database from "better-sqlite3";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { assemble } from "#main/assemble.ts";
import { copyWorkBeside } from "#main/loopback/copy-work.ts";
import { randomIds } from "#main/ports/ids.ts";
import type { Program } from "#main/program.ts";
import { finishedExport } from "../support/finished-export.ts";
import { fixedClock, type SettableClock } from "../support/fixed-clock.ts";
import { printTable, threeFigures } from "./print-table.ts";
import { keptTenYears, keyRow, type TenYears, tenYears } from "./ten-years.ts";

const DEFAULT_ROWS = "100000,1000000";
/** Five rows a second, two readings each. */
const ROW_EVERY_MS = 200;
const ALONE_MS = 20_000;
/** Short work is done again until it has gone on for so long: the 99th of a hundred answers is no chance finding then. */
const AT_LEAST_MS = 20_000;
/** Copies that are looked at every so often while they are made. */
const LOOK_MS = 50;
const DAYS = 20;
const ROWS_OF_A_DAY = 100;

interface Opened {
  readonly program: Program;
  readonly clock: SettableClock;
  call<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>>;
}

async function open({ paths, dayAfter }: TenYears): Promise<Opened> {
  const clock = fixedClock(dayAfter);
  const program = await assemble({
    paths,
    clock,
    ids: randomIds,
    host: "loopback",
    programVersion: "0.0.0-bench",
    copyWork: copyWorkBeside,
  });
  return {
    program,
    clock,
    async call<N extends CallName>(name: N, input: CallInput<N>) {
      const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
      if (!reply.ok) throw new Error(`${name} was refused: ${JSON.stringify(reply.error)}`);
      return reply.value;
    },
  };
}

const at = (rising: readonly number[], share: number): number =>
  rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;

interface Beside {
  readonly seconds: number;
  readonly readings: number;
  readonly p50: number;
  readonly p99: number;
  readonly most: number;
  /** Largest -wal file seen, bytes. */
  readonly wal: number;
}

/** Keys rows at the pace of a quick person while `work` goes on. */
async function enterBeside(
  { call }: Opened,
  { paths, sheetId }: TenYears,
  work: Promise<unknown>,
): Promise<Beside> {
  let over = false;
  const ended = work.finally(() => {
    over = true;
  });
  ended.catch(() => undefined);
  const answers: number[] = [];
  const timed: Opened["call"] = async (name, input) => {
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
  const seconds = (performance.now() - start) / 1000;
  return {
    seconds,
    readings: rising.length,
    p50: at(rising, 0.5),
    p99: at(rising, 0.99),
    most: at(rising, 1),
    wal,
  };
}

function bytesIn(folder: string): number {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce((sum, entry) => sum + statSync(join(entry.parentPath, entry.name)).size, 0);
}

function printSizes({ paths, rows }: TenYears): void {
  const bench = new Database(paths.databaseFile, { readonly: true });
  const parts = bench
    .prepare("SELECT name, sum(pgsize) AS bytes FROM dbstat GROUP BY name ORDER BY bytes DESC LIMIT 12")
    .all() as { name: string; bytes: number }[];
  bench.close();
  const whole = statSync(paths.databaseFile).size;
  printTable(
    ["table or index", "bytes a row"],
    [
      ["the whole file", threeFigures(whole / rows)],
      ...parts.map(({ name, bytes }) => [name, threeFigures(bytes / rows)]),
    ],
  );
}

async function timedOpening(ten: TenYears): Promise<number> {
  const start = performance.now();
  const { program, call } = await open(ten);
  await call("bench.status", {});
  const ms = performance.now() - start;
  await program.close();
  return ms;
}

/** Work done again and again until it has gone on long enough. */
function lasting(work: () => Promise<unknown>): () => Promise<void> {
  return async () => {
    const end = performance.now() + AT_LEAST_MS;
    do await work();
    while (performance.now() < end);
  };
}

async function verified({ call }: Opened): Promise<void> {
  const [start, spent] = [performance.now(), process.cpuUsage()];
  const report = await call("trail.verify", {});
  if (report.differences.length > 0) throw new Error(`verify: ${JSON.stringify(report.differences[0])}`);
  const seconds = (performance.now() - start) / 1000;
  const { user, system } = process.cpuUsage(spent);
  const worked = (user + system) / 1e6;
  const perSecond = (time: number): string => threeFigures(report.trailLines / time);
  console.log(
    `verify beside entry: ${report.trailLines} lines, ${perSecond(seconds)} a second, ${perSecond(worked)} in a second of this process's CPU time`,
  );
}

async function exported({ call }: Opened): Promise<void> {
  const sheets = (await call("sheets.list", {})).slice(0, 20).map(({ id }) => id);
  const input = { sheetIds: sheets, format: "values workbook", paper: "A4" } as const;
  await finishedExport({ call }, await call("exports.begin", input));
}

async function besideWork(ten: TenYears): Promise<void> {
  const opened = await open(ten);
  const { call } = opened;
  const lines: string[][] = [];
  const p99Alone: number[] = [];
  const nothing = (): Promise<unknown> => pause(ALONE_MS);
  const copies: string[] = [];
  const works: readonly (readonly [string, () => Promise<unknown>])[] = [
    ["nothing", nothing],
    [
      "backups, with the older made small",
      lasting(async () => {
        copies.push((await call("backups.make", { requestId: randomIds.next() })).fileName);
      }),
    ],
    [
      "looking inside the newest backup",
      lasting(() => call("backups.check", { fileName: copies.at(-1) ?? "" })),
    ],
    ["looking inside an older backup", lasting(() => call("backups.check", { fileName: copies[0] ?? "" }))],
    ["verify", () => verified(opened)],
    ["workbooks of 20,000 rows", lasting(() => exported(opened))],
    ["nothing, once more", nothing],
  ];
  for (const [name, work] of works) {
    const found = await enterBeside(opened, ten, work());
    if (name.startsWith("nothing")) p99Alone.push(found.p99);
    const { seconds, readings, p50, p99, most, wal } = found;
    lines.push([
      name,
      threeFigures(seconds),
      String(readings),
      ...[p50, p99, most].map(threeFigures),
      String(p99),
      threeFigures(wal / 2 ** 20),
    ]);
  }
  await opened.program.close();
  const alone = p99Alone.reduce((sum, one) => sum + one, 0) / p99Alone.length;
  printTable(
    [
      `a reading to its answer, ${ten.rows.toLocaleString("en-GB")} rows, beside`,
      "s",
      "readings",
      "p50, ms",
      "p99, ms",
      "most, ms",
      "p99 to alone (mean of both)",
      "-wal at most, MiB",
    ],
    lines.map((line) => line.with(6, `${threeFigures(Number(line[6]) / alone)} ×`)),
  );
}

async function backupSpace(ten: TenYears): Promise<void> {
  let opened = await open(ten);
  let most = 0;
  const bench = (): number => statSync(ten.paths.databaseFile).size;
  const looking = setInterval(() => {
    most = Math.max(most, bytesIn(ten.paths.backupFolder) / bench());
  }, LOOK_MS);
  for (let day = 1; day <= DAYS; day += 1) {
    opened.clock.set(new Date(Date.parse(ten.dayAfter) + day * 86_400_000).toISOString());
    for (let row = 0; row < ROWS_OF_A_DAY; row += 1) await keyRow(opened.call, ten.sheetId, row);
    const start = performance.now();
    await opened.program.close();
    if (day === DAYS)
      console.log(`closed after a day's work in ${threeFigures(performance.now() - start)} ms`);
    opened = await open({ ...ten, dayAfter: opened.clock.now() });
  }
  clearInterval(looking);
  const now = bytesIn(ten.paths.backupFolder);
  console.log(
    `backups after ${DAYS} days of ${ROWS_OF_A_DAY} rows, opened and closed each day: ${threeFigures(now / 2 ** 20)} MiB, ${threeFigures(now / bench())} × the bench; at most, while one was made, ${threeFigures(most)} ×`,
  );
  const copies = await opened.call("backups.list", {});
  const start = performance.now();
  for (const { fileName } of copies) await opened.call("backups.check", { fileName });
  const seconds = (performance.now() - start) / 1000;
  console.log(
    `all ${copies.length} of them rebuilt, opened and checked: ${threeFigures(seconds / copies.length)} s each`,
  );
  await opened.program.close();
}

async function looked(ten: TenYears): Promise<void> {
  try {
    printSizes(ten);
    console.log(`opened in ${threeFigures(await timedOpening(ten))} ms`);
    await besideWork(ten);
    await backupSpace(ten);
  } finally {
    ten.remove();
  }
}

/**
 * A bench of ten years: bytes of a row, opening, a reading's answer beside long work, the lines that verify follows in a
 * second, the -wal file, and the space of backups. LONG_LIFE_ROWS says how many rows (100,000 and then 1,000,000 when it
 * says nothing), LONG_LIFE_FOLDER a folder in which benches so made are kept for the next time; they are worked on as
 * copies. A million rows are made in some ten minutes and need some 8 GB.
 */
export async function benchLongLife(): Promise<void> {
  const folder = process.env.LONG_LIFE_FOLDER;
  for (const rows of (process.env.LONG_LIFE_ROWS ?? DEFAULT_ROWS).split(",").map(Number)) {
    await looked(folder === undefined ? await tenYears(rows) : await keptTenYears(folder, rows));
  }
}
