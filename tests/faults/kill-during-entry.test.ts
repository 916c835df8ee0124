import { randomInt } from "node:crypto";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { CallRefused, enterLoopback, type LoopbackSession } from "../support/loopback-session.ts";
import type { TempBench } from "../support/temp-bench.ts";

const KILLS = 30;
const LONGEST_LIFE_MS = 120;
/** Each kill takes a start of the program. */
const PATIENCE_MS = 600_000 * Math.max(1, KILLS / 50);

interface Press {
  readonly requestId: string;
  readonly rowId: string;
  readonly cell: { readonly dimension: string; readonly edge: "left" | "right" };
  readonly typed: string;
}

let program: LoopbackProgram;
let scene: Scene;
let session: LoopbackSession;
const acknowledged: Press[] = [];
const drafts = new Map<string, string>();
let presses = 0;
let unanswered: Press | null = null;
/** Presses that were on disk although the program died before it could say so. */
let storedUnsaid = 0;

beforeAll(async () => {
  program = await startLoopbackProgram();
  session = await enterLoopback(program.address);
  let requests = 0;
  const bench = { call: session.call, request: () => `scene-request-${++requests}` };
  scene = await buildScene(bench as TempBench);
  await calibrateTrain(bench as TempBench, scene, { dueOn: "2099-01-01" });
});
afterAll(() => program.stop());

/** The next press of a measuring person: left, right, next row. */
function nextPress(): Press {
  presses += 1;
  const row = Math.ceil(presses / 2);
  return {
    requestId: `press-${String(presses).padStart(6, "0")}`,
    rowId: `row-${row}`,
    cell: { dimension: "length", edge: presses % 2 === 1 ? "left" : "right" },
    typed: presses % 2 === 1 ? `${row % 40}.${presses % 10}` : `${50 + (row % 40)}.5`,
  };
}

const send = (press: Press) => session.call("rows.enter", { ...press, sheetId: scene.sheet.id, label: "" });

async function measure(): Promise<never> {
  for (;;) {
    const press = nextPress();
    unanswered = press;
    const draft = { sheetId: scene.sheet.id, rowId: press.rowId, cell: press.cell, typed: "4" };
    await session.call("rows.keepDraft", draft);
    drafts.set(`${press.rowId} ${press.cell.edge}`, "4");
    await send(press);
    acknowledged.push(press);
    drafts.delete(`${press.rowId} ${press.cell.edge}`);
    unanswered = null;
  }
}

/** Ends the program without warning somewhere in the middle of the entry. */
async function measureUntilKilled(): Promise<void> {
  const measuring = measure().catch((error: unknown) => error);
  await wait(randomInt(2, LONGEST_LIFE_MS));
  await program.kill9();
  const ended = await measuring;
  // Refused is not lost: a refusal in the middle of measuring would be a defect of its own.
  if (ended instanceof CallRefused) throw ended;
}

async function allRows() {
  const rows = [];
  for (let from = 1; ; from += 1000) {
    const page = await session.call("rows.page", { sheetId: scene.sheet.id, from, count: 1000 });
    rows.push(...page.rows);
    if (rows.length >= page.total) return rows;
  }
}

/** What the rows would be if every press took effect exactly once. */
function expectedReadings(): Map<string, Record<string, string>> {
  const rows = new Map<string, Record<string, string>>();
  for (const press of acknowledged) {
    rows.set(press.rowId, { ...rows.get(press.rowId), [press.cell.edge]: press.typed });
  }
  return rows;
}

async function checkWhatIsThere(): Promise<void> {
  const { drafts: kept } = await session.call("sheets.get", { sheetId: scene.sheet.id });
  const rowsBefore = await allRows();
  if (unanswered) {
    const half = `${unanswered.rowId} ${unanswered.cell.edge}`;
    const entered = rowsBefore
      .find((row) => row.id === unanswered?.rowId)
      ?.measurements.some((one) => one[unanswered?.cell.edge ?? "left"] !== null);
    // The half-typed text is there again, unless the press it belongs to had just been stored.
    if (drafts.has(half) && !entered) {
      expect(kept.map((draft) => `${draft.rowId} ${draft.cell.edge}`)).toContain(half);
    }
    if (entered) storedUnsaid += 1;
    await send(unanswered);
    acknowledged.push(unanswered);
    drafts.delete(half);
    unanswered = null;
  }
  const rows = await allRows();
  const readings = rows.map((row) => {
    const [length] = row.measurements;
    const typed = Object.entries({ left: length?.left, right: length?.right });
    return [row.id, Object.fromEntries(typed.filter(([, text]) => typeof text === "string"))];
  });
  expect(readings).toEqual([...expectedReadings()]);
  expect(rows.map((row) => row.ordinal)).toEqual(rows.map((_, index) => index + 1));
  for (const row of rows) {
    const [length] = row.measurements;
    if (length?.left && length.right) expect(length.size).not.toBeNull();
  }
  expect((await session.call("trail.verify", {})).differences).toEqual([]);
}

it(
  `after each of ${KILLS} kills everything acknowledged is there once, and nothing else`,
  async () => {
    for (let kill = 1; kill <= KILLS; kill += 1) {
      await measureUntilKilled();
      await program.restart();
      session = await enterLoopback(program.address);
      await checkWhatIsThere();
    }
    // Kills that always came before the first press would prove nothing.
    expect(acknowledged.length).toBeGreaterThan(KILLS);
    lostNothing(
      "killed while readings are entered",
      KILLS,
      `${acknowledged.length} readings acknowledged, none twice, ${storedUnsaid} on disk unsaid`,
    );
  },
  PATIENCE_MS,
);
