import { randomInt } from "node:crypto";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { CountEvent, CountingAct } from "#core/contract/records/count.ts";
import { replayEvents } from "#core/counting/inputs/field-counts.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { buildScene, calibrateTrain } from "../support/bench-scenes.ts";
import { openCount } from "../support/count-scene.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { CallRefused, enterLoopback, type LoopbackSession } from "../support/loopback-session.ts";
import type { TempBench } from "../support/temp-bench.ts";

const KILLS = 25;
const LONGEST_LIFE_MS = 150;
/** Each kill takes a start of the program. */
const PATIENCE_MS = 600_000 * Math.max(1, KILLS / 50);

let program: LoopbackProgram;
let session: LoopbackSession;
let countId: string;
/** Everything the hand did, in its order; the last batch may be unanswered. */
const acknowledged: CountingAct[] = [];
let unanswered: readonly CountingAct[] = [];
let made = 0;
let storedUnsaid = 0;

beforeAll(async () => {
  program = await startLoopbackProgram();
  session = await enterLoopback(program.address);
  let requests = 0;
  const bench = { call: session.call, request: () => `scene-request-${++requests}` };
  const scene = await buildScene(bench as TempBench);
  await calibrateTrain(bench as TempBench, scene, { dueOn: "2099-01-01" });
  countId = (await openCount(bench as TempBench, scene)).id;
});
afterAll(() => program.stop());

/** The next act of a counting hand: mostly presses, now and then a colony, a new field or an undo. */
function nextAct(): CountingAct {
  made += 1;
  const base = { requestId: `act-${String(made).padStart(6, "0")}`, waitedMs: 0 };
  if (made % 13 === 0) return { ...base, kind: "field", position: null };
  if (made % 17 === 0) return { ...base, kind: "undo" };
  const { categories } = UTERMOHL_FIELDS;
  const category = categories[made % categories.length]?.key ?? "diatoms";
  return { ...base, kind: "press", category, weight: made % 7 === 0 ? "8" : "1", rowId: null };
}

/** One at a time, or several that waited. */
function nextBatch(): CountingAct[] {
  const size = made % 5 === 0 ? 6 : 1;
  return Array.from({ length: size }, nextAct);
}

async function send(acts: readonly CountingAct[]): Promise<void> {
  const [first] = acts;
  if (acts.length === 1 && first?.kind === "press")
    await session.call("counts.press", { countId, act: first });
  else await session.call("counts.pressMany", { countId, acts: [...acts] });
}

async function n(): Promise<never> {
  for (;;) {
    unanswered = nextBatch();
    await send(unanswered);
    acknowledged.push(...unanswered);
    unanswered = [];
  }
}

async function countUntilKilled(): Promise<void> {
  const counting = n().catch((error: unknown) => error);
  await wait(randomInt(2, LONGEST_LIFE_MS));
  await program.kill9();
  const ended = await counting;
  // Refused is not lost: a refusal in the middle of counting would be a defect of its own.
  if (ended instanceof CallRefused) throw ended;
}

async function allEvents(): Promise<CountEvent[]> {
  const events: CountEvent[] = [];
  for (;;) {
    const page = await session.call("counts.events", { countId, from: events.length + 1, count: 5000 });
    events.push(...page.events);
    if (events.length >= page.last) return events;
  }
}

async function checkWhatIsThere(): Promise<void> {
  const before = await allEvents();
  expect(before.slice(0, acknowledged.length).map((event) => event.requestId)).toEqual(
    acknowledged.map((act) => act.requestId),
  );
  // A batch is there whole or not at all; sending it again does no harm either way.
  const extra = before.length - acknowledged.length;
  expect([0, unanswered.length]).toContain(extra);
  if (extra > 0) storedUnsaid += 1;
  if (unanswered.length > 0) await send(unanswered);
  acknowledged.push(...unanswered);
  unanswered = [];

  const events = await allEvents();
  expect(events.map((event) => event.requestId)).toEqual(acknowledged.map((act) => act.requestId));
  expect(events.map((event) => event.sequence)).toEqual(events.map((_, index) => index + 1));
  const { fields, count } = await session.call("counts.state", { countId });
  const replayed = replayEvents(events);
  expect(count.currentField).toBe(replayed.currentField);
  for (const { ordinal, counts } of fields) {
    for (const { key } of UTERMOHL_FIELDS.categories) {
      expect(Number(counts[key] ?? 0) * 1000).toBe(replayed.fields.get(ordinal)?.get(key)?.thousandths ?? 0);
    }
  }
}

it(
  `after each of ${KILLS} kills every acknowledged press is there once, in order and in its field`,
  async () => {
    for (let kill = 1; kill <= KILLS; kill += 1) {
      await countUntilKilled();
      await program.restart();
      session = await enterLoopback(program.address);
      await checkWhatIsThere();
    }
    // Kills that always came before the first press would prove nothing.
    expect(acknowledged.length).toBeGreaterThan(KILLS);
    expect((await session.call("trail.verify", {})).differences).toEqual([]);
    lostNothing(
      "killed while a count is pressed",
      KILLS,
      `${acknowledged.length} acts acknowledged, none twice, ${storedUnsaid} batches on disk unsaid`,
    );
  },
  PATIENCE_MS,
);
