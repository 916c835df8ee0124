import { randomBytes } from "node:crypto";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import { UPLOAD_PART } from "#core/contract/records/exchange.ts";
import type { Reply } from "#core/contract/reply.ts";
import { assemble } from "#main/assemble.ts";
import { dispatchText } from "#main/dispatch/text-door.ts";
import { startService } from "#main/electron/service-client.ts";
import { copyWorkBeside } from "#main/loopback/copy-work.ts";
import { systemClock } from "#main/ports/clock.ts";
import { randomIds } from "#main/ports/ids.ts";
import type { BenchPaths } from "#main/ports/paths.ts";
import { workbookOf } from "../support/finished-export.ts";
import { SERVICE_ENTRY, ServiceChildStandIn } from "../support/service-child.ts";
import { fill } from "./entering.ts";
import { printTable, threeFigures } from "./print-table.ts";

const ROWS = 100_000;
/** Quicker than anybody reads and types, so that enough readings fall into one piece of work. */
const BETWEEN_MS = 25;
const ALONE_MS = 5000;
const COLUMNS_AT_ONCE = 25_000;
const UPLOAD_BYTES = 8 * 1024 * 1024;

type Call = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallOutput<N>>;

/** A way to the services, as JSON text. */
interface Way {
  readonly call: Call;
  close(): Promise<void>;
}

function callOver(send: (name: string, input: string) => Promise<string>): Call {
  return async <N extends CallName>(name: N, input: CallInput<N>) => {
    const reply = JSON.parse(await send(name, JSON.stringify(input))) as Reply<CallOutput<N>>;
    if (!reply.ok) throw new Error(`${name} was refused: ${JSON.stringify(reply.error)}`);
    return reply.value;
  };
}

async function besideWindow(paths: BenchPaths, desk: string): Promise<Way> {
  const service = startService({
    fork: () => new ServiceChildStandIn(SERVICE_ENTRY),
    bench: {
      folder: paths.dataFolder,
      exportFolder: paths.exportFolder,
      programVersion: "0.0.0-bench",
      demo: false,
    },
    answers: {
      exportPath: async (suggested) => join(desk, String(suggested)),
      copyWork: (order) => copyWorkBeside(order),
      demo: async () => null,
      headKey: async () => null,
      folder: async () => null,
      pdf: () => Promise.reject(new Error("no window")),
      recovery: async () => null,
    },
    onRestarted: () => undefined,
    onLost: ({ message }) => {
      throw new Error(message);
    },
    log: () => undefined,
  });
  await service.opened;
  return { call: callOver(service.call), close: () => service.close() };
}

/** As it was before: the services in the window's process. */
async function insideWindow(paths: BenchPaths, desk: string): Promise<Way> {
  const program = await assemble({
    paths,
    clock: systemClock,
    ids: randomIds,
    host: "electron",
    programVersion: "0.0.0-bench",
    chooseExportPath: async (suggested) => join(desk, suggested),
  });
  return {
    call: callOver((name, input) => dispatchText(program.dispatch, name, input)),
    close: program.close,
  };
}

interface Watched {
  readonly seconds: number;
  /** Answers to single readings, rising, ms. */
  readonly answers: readonly number[];
  /** Longest stretches without a turn of the loop, ms: by the clock, and of it this thread's own work. */
  readonly hold: number;
  readonly work: number;
}

/** Turns of this process's loop: how long the longest took, by the clock and in work of this thread. */
function watchLoop(): () => Pick<Watched, "hold" | "work"> {
  const spent = () => {
    const { user, system } = process.threadCpuUsage();
    return (user + system) / 1000;
  };
  let [at, worked, hold, work] = [performance.now(), spent(), 0, 0];
  const timer = setInterval(() => {
    const [now, by] = [performance.now(), spent()];
    hold = Math.max(hold, now - at);
    work = Math.max(work, by - worked);
    [at, worked] = [now, by];
  }, 1);
  return () => {
    clearInterval(timer);
    return { hold, work };
  };
}

async function enterWhile(call: Call, sheetId: string, work: Promise<unknown>): Promise<Watched> {
  let over = false;
  const ended = work.finally(() => {
    over = true;
  });
  const stop = watchLoop();
  const start = performance.now();
  const answers: number[] = [];
  for (let n = 0; !over; n += 1) {
    const rowId = `beside-${Math.floor(start)}-${n >> 1}`;
    const edge = n % 2 === 0 ? ("left" as const) : ("right" as const);
    const begun = performance.now();
    await call("rows.enter", {
      requestId: randomIds.next(),
      sheetId,
      rowId,
      cell: { dimension: "length", edge },
      typed: edge === "left" ? "10.5" : "42.0",
      label: "Taxon 1",
    });
    answers.push(performance.now() - begun);
    await pause(BETWEEN_MS);
  }
  await ended;
  return { seconds: (performance.now() - start) / 1000, answers: answers.sort((a, b) => a - b), ...stop() };
}

async function sendFile(call: Call): Promise<void> {
  const { uploadId } = await call("uploads.begin", { fileName: "a file.csv", bytes: UPLOAD_BYTES });
  const base64 = randomBytes(UPLOAD_PART).toString("base64");
  for (let offset = 0; offset < UPLOAD_BYTES; offset += UPLOAD_PART) {
    await call("uploads.part", { uploadId, offset, base64 });
  }
}

/** All cells of the sheet for its columns, as a window asks for them when it is opened. */
async function readColumns(call: Call, sheetId: string): Promise<void> {
  const { sheet } = await call("sheets.get", { sheetId });
  for (let from = 1; from <= sheet.rowCount; from += COLUMNS_AT_ONCE) {
    await call("sheets.columns", { sheetId, from, count: COLUMNS_AT_ONCE });
  }
}

/** The day's first act makes the day's backup: that is not the work to be watched. */
async function pastDailyBackup(call: Call): Promise<void> {
  const today = systemClock.now().slice(0, 10);
  await call("people.register", {
    requestId: randomIds.next(),
    person: { name: `Somebody ${randomIds.next()}`, initials: "S", interpupillaryMm: "" },
  });
  for (let made = false; !made; await pause(200)) {
    const copies = await call("backups.list", {});
    made = copies.some(({ why, madeAt }) => why === "daily" && madeAt >= today);
  }
}

const at = (rising: readonly number[], share: number): number =>
  rising[Math.min(rising.length - 1, Math.floor(rising.length * share))] ?? 0;

/**
 * How long the window's process is held, and what single readings wait for, while long work goes on behind it. The
 * window's process is this one: it runs the program's own passing on of calls, without Electron and without a window,
 * so what Chromium adds is not in it. The work column leaves out the time in which the machine ran something else. Text
 * is read here too, which in Electron the window does and not its process: the figures are on the dear side.
 */
export async function benchWindowHold(): Promise<void> {
  const { bench, scene } = await fill(ROWS);
  await bench.program.close();
  const sheetId = scene.sheet.id;
  const desk = await mkdtemp(join(tmpdir(), "linefall-desk-"));
  const lines: string[][] = [];
  try {
    for (const [where, open] of [
      ["services beside the window", besideWindow],
      ["services in its process", insideWindow],
    ] as const) {
      const { call, close } = await open(bench.paths, desk);
      await pastDailyBackup(call);
      const works: readonly (readonly [string, () => Promise<unknown>])[] = [
        ["nothing", () => pause(ALONE_MS)],
        ["verify", () => call("trail.verify", {})],
        ["a backup", () => call("backups.make", { requestId: randomIds.next() })],
        ["a workbook", () => workbookOf({ call }, sheetId)],
        ["a file of 8 MB sent", () => sendFile(call)],
        ["all columns read", () => readColumns(call, sheetId)],
      ];
      for (const [name, work] of works) {
        const { seconds, answers, hold, work: own } = await enterWhile(call, sheetId, work());
        lines.push([
          `${where}: ${name}`,
          threeFigures(seconds),
          String(answers.length),
          ...[0.5, 0.99, 1].map((share) => threeFigures(at(answers, share))),
          threeFigures(hold),
          threeFigures(own),
        ]);
      }
      await close();
    }
    printTable(
      [
        `beside work on a bench of ${ROWS.toLocaleString("en-GB")} rows`,
        "s",
        "readings",
        "answer p50, ms",
        "p99, ms",
        "most, ms",
        "longest hold, ms",
        "its own work, ms",
      ],
      lines,
    );
  } finally {
    await bench.end();
    await rm(desk, { recursive: true, force: true });
  }
}
