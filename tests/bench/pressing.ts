import { randomUUID } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { EGGS_MCMASTER } from "#core/counting/methods/ready-bench-methods.ts";
import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { randomIds } from "#main/ports/ids.ts";
import type { Program } from "#main/program.ts";
import { printTable, threeFigures } from "./print-table.ts";

const BEHIND = 100_000;
const TIMED = 2000;
const PER_SECOND = 20;
const SECONDS = 60;
const FIELD_EVERY = 250;

type Call = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallOutput<N>>;

/** As a window makes them: in no order, so that their index is written all over. */
const requestId = () => randomUUID();

function callerOf(program: Program): Call {
  return async <N extends CallName>(name: N, input: CallInput<N>) => {
    const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
    if (!reply.ok) throw new Error(`${name}: ${reply.error.message}`);
    return reply.value;
  };
}

const press = (category = "strongyles") =>
  ({ kind: "press", requestId: requestId(), category, weight: "1", rowId: null, waitedMs: 0 }) as const;
const newField = () => ({ kind: "field", requestId: requestId(), position: null, waitedMs: 0 }) as const;

async function openCount(call: Call): Promise<string> {
  const person = await call("people.register", {
    requestId: requestId(),
    person: { name: "Bench", initials: "B", interpupillaryMm: "" },
  });
  await call("people.choose", { personId: person.id });
  const method = await call("countMethods.define", {
    requestId: requestId(),
    familyId: null,
    definition: EGGS_MCMASTER,
  });
  const count = await call("counts.open", {
    requestId: requestId(),
    position: null,
    count: {
      sample: "bench",
      note: "",
      countMethodId: method.id,
      train: null,
      categories: EGGS_MCMASTER.categories,
      inputs: EGGS_MCMASTER.suggestedInputs,
      batch: "",
    },
  });
  return count.id;
}

function percentile(sorted: readonly number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
}

async function fill(call: Call, countId: string, presses: number): Promise<void> {
  for (let done = 0; done < presses; done += FIELD_EVERY) {
    const acts = [...Array.from({ length: FIELD_EVERY - 1 }, () => press()), newField()];
    await call("counts.pressMany", { countId, acts });
  }
}

/** Twenty presses a second for a minute, sent when they fall due and not when the last was answered. */
async function minuteOfPresses(
  call: Call,
  countId: string,
): Promise<{ lost: number; outOfOrder: number; slowest: number }> {
  const before = (await call("counts.get", { countId })).lastSequence;
  const sent: string[] = [];
  const answers: Promise<number>[] = [];
  const start = performance.now();
  for (let i = 0; i < PER_SECOND * SECONDS; i += 1) {
    await wait(Math.max(0, start + (i * 1000) / PER_SECOND - performance.now()));
    const act = press(i % 2 === 0 ? "strongyles" : "ascarids");
    const began = performance.now();
    sent.push(act.requestId);
    answers.push(call("counts.press", { countId, act }).then(() => performance.now() - began));
  }
  const slowest = Math.max(...(await Promise.all(answers)));
  const { events } = await call("counts.events", { countId, from: before + 1, count: 5000 });
  const stored = events.map((event) => event.requestId);
  return {
    lost: sent.filter((id) => !stored.includes(id)).length,
    outOfOrder: sent.filter((id, i) => stored[i] !== id).length,
    slowest,
  };
}

interface OpenBench {
  readonly program: Program;
  readonly call: Call;
  readonly countId: string;
  end(): Promise<void>;
}

async function openBench(presses: number): Promise<OpenBench> {
  const folder = mkdtempSync(join(tmpdir(), "linefall-bench-"));
  const program = await assemble({
    paths: {
      dataFolder: folder,
      databaseFile: join(folder, "bench.sqlite"),
      backupFolder: join(folder, "backups"),
      exportFolder: join(folder, "exports"),
    },
    clock: systemClock,
    ids: randomIds,
    host: "loopback",
    programVersion: "bench",
  });
  const call = callerOf(program);
  const countId = await openCount(call);
  await fill(call, countId, presses);
  return {
    program,
    call,
    countId,
    async end() {
      await program.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Presses by turns, so that whatever else the machine does falls on both benches alike. */
async function timeByTurns(benches: readonly OpenBench[], presses: number): Promise<number[][]> {
  const found = benches.map((): number[] => []);
  for (let i = 0; i < presses; i += 1) {
    for (const [n, { call, countId }] of benches.entries()) {
      const act = press();
      const start = performance.now();
      await call("counts.press", { countId, act });
      found[n]?.push(performance.now() - start);
    }
  }
  return found.map((times) => times.sort((one, other) => one - other));
}

/** What one press costs the service, from dispatch to acknowledged on disk, with nothing and with 100,000 presses behind. */
export async function benchPressing(): Promise<void> {
  const sizes = [0, BEHIND];
  const benches: OpenBench[] = [];
  try {
    for (const presses of sizes) benches.push(await openBench(presses));
    await timeByTurns(benches, 200);
    const found = await timeByTurns(benches, TIMED);
    const shares = [0.5, 0.95, 0.99];
    const base = found[0] ?? [];
    const rows = found.map((times, i) => [
      `${(sizes[i] ?? 0).toLocaleString("en-GB")} presses behind`,
      ...shares.map((share) => threeFigures(percentile(times, share))),
      ...shares.map((share) => (percentile(times, share) / percentile(base, share)).toFixed(2)),
    ]);
    printTable(["one press", "p50 ms", "p95 ms", "p99 ms", "p50 ratio", "p95 ratio", "p99 ratio"], rows);
    for (const [i, { call, countId }] of benches.entries()) {
      const minute = await minuteOfPresses(call, countId);
      console.log(
        `${PER_SECOND} presses a second for ${SECONDS} s on top of ${(sizes[i] ?? 0).toLocaleString("en-GB")}: ${minute.lost} lost, ${minute.outOfOrder} out of order, slowest answer ${threeFigures(minute.slowest)} ms`,
      );
    }
  } finally {
    for (const bench of benches) await bench.end();
  }
}
