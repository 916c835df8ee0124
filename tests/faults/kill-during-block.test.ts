import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { CallRefused, enterLoopback, type LoopbackSession } from "../support/loopback-session.ts";
import type { TempBench } from "../support/temp-bench.ts";

const LINES = 3000;
/** After how long the program is ended: from before the block is read to after it is in. */
const LIVES_MS = [5, 40, 120, 300, 600, 1000, 1600, 3000];
/** Each kill takes a start of the program. */
const PATIENCE_MS = 300_000;

let program: LoopbackProgram;
let scene: Scene;
let session: LoopbackSession;

beforeAll(async () => {
  program = await startLoopbackProgram();
  session = await enterLoopback(program.address);
  let requests = 0;
  const bench = { call: session.call, request: () => `scene-request-${++requests}` };
  scene = await buildScene(bench as TempBench);
  await calibrateTrain(bench as TempBench, scene, { dueOn: "2099-01-01" });
});
afterAll(() => program.stop());

const block = (round: number) => ({
  sheetId: scene.sheet.id,
  blockId: `block-${round}`,
  columns: [
    { kind: "label" as const },
    { kind: "reading" as const, cell: { dimension: "length", edge: "left" as const } },
    { kind: "reading" as const, cell: { dimension: "length", edge: "right" as const } },
  ],
  skipFirstLine: false,
  startAt: null,
  excluded: [],
  corrections: [],
});

const rowCount = async () => (await session.call("sheets.get", { sheetId: scene.sheet.id })).sheet.rowCount;

it(
  "a program killed in the middle of a pasted block has taken in all of it or nothing, and can go on",
  async () => {
    const text = Array.from(
      { length: LINES },
      (_, i) => `grain ${i}\t${i % 20}\t${40 + (i % 300) / 10}`,
    ).join("\n");
    let expected = 0;
    for (const [round, life] of LIVES_MS.entries()) {
      const sheetId = scene.sheet.id;
      await session.call("rows.stageBlock", { sheetId, blockId: `block-${round}`, part: 1, text });
      const input = { requestId: `block-request-${round}`, block: block(round) };
      const taking = session.call("rows.enterBlock", input).catch((error: unknown) => error);
      await wait(life);
      await program.kill9();
      const ended = await taking;
      if (ended instanceof CallRefused) throw ended;
      await program.restart();
      session = await enterLoopback(program.address);
      const there = await rowCount();
      const wasTold = typeof ended === "object" && ended !== null && "total" in ended;
      expect(wasTold ? [expected + LINES] : [expected, expected + LINES]).toContain(there);
      // The window asks again after a lost answer: the block goes in now, or it is in already.
      const again = await session.call("rows.enterBlock", input);
      expected += LINES;
      expect(again).toMatchObject({ count: LINES, total: expected });
    }
    const { rows } = await session.call("rows.page", {
      sheetId: scene.sheet.id,
      from: expected - 99,
      count: 100,
    });
    expect(rows).toHaveLength(100);
    expect(rows.every((row) => row.measurements[0]?.divisions !== null)).toBe(true);
    const undone = await session.call("rows.undo", { requestId: "undo-the-last", sheetId: scene.sheet.id });
    expect(undone.changed.total).toBe(expected - LINES);
    lostNothing(
      "killed while a pasted block is taken in",
      LIVES_MS.length,
      `each block of ${LINES.toLocaleString("en")} lines whole or not there, once`,
    );
  },
  PATIENCE_MS,
);
