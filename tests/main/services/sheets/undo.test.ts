import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { measurementDifferences } from "../../../support/measurement-differences.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await calibrateTrain(bench, scene, { position: 2, right: "80", lineRight: "20" });
});
afterEach(() => bench.end());

interface Seen {
  readonly rows: readonly SpecimenRow[];
  readonly struck: number;
}

/** Everything a window can see of the sheet; measurements by dimension, since their order means nothing. */
async function seen(sheetId = scene.sheet.id): Promise<Seen> {
  const { total, rows } = await bench.call("rows.page", { sheetId, from: 1, count: 5000 });
  expect(total).toBe(rows.length);
  expect(rows.map((row) => row.ordinal)).toEqual(rows.map((_, i) => i + 1));
  const { sheet } = await bench.call("sheets.get", { sheetId });
  expect(sheet.struckCount).toBe(rows.filter((row) => row.struck).length);
  return {
    rows: rows.map((row) => ({
      ...row,
      measurements: [...row.measurements].sort((a, b) => (a.dimension < b.dimension ? -1 : 1)),
    })),
    struck: sheet.struckCount,
  };
}

const take = (name: "rows.undo" | "rows.redo") =>
  bench.call(name, { requestId: bench.request(), sheetId: scene.sheet.id });

type Act =
  | {
      kind: "enter";
      row: number;
      dimension: "length" | "width";
      edge: "left" | "right";
      repeat: number;
      value: number;
    }
  | { kind: "describe"; row: number; label: string }
  | { kind: "strike"; row: number }
  | { kind: "strikeMany"; from: number; more: number }
  | { kind: "objective"; row: number; position: number };

const ROW = fc.integer({ min: 0, max: 3 });
const ACT: fc.Arbitrary<Act> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant("enter" as const),
      row: ROW,
      dimension: fc.constantFrom("length" as const, "width" as const),
      edge: fc.constantFrom("left" as const, "right" as const),
      repeat: fc.integer({ min: 1, max: 2 }),
      value: fc.integer({ min: 0, max: 99 }),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant("describe" as const),
      row: ROW,
      label: fc.constantFrom("grain", "Carpinus 1", ""),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant("strike" as const), row: ROW }) },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant("strikeMany" as const),
      from: fc.integer({ min: 1, max: 4 }),
      more: fc.integer({ min: 0, max: 3 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant("objective" as const),
      row: ROW,
      position: fc.integer({ min: 1, max: 2 }),
    }),
  },
);

/** Does an act as a window would; some are refused, and a refused act changes nothing. */
async function perform(act: Act, prefix: string): Promise<void> {
  const rowId = "row" in act ? `${prefix}-${act.row}` : "";
  const at = { requestId: bench.request(), sheetId: scene.sheet.id };
  if (act.kind === "enter") {
    const { dimension, edge, repeat, value } = act;
    const cell = { dimension, edge, repeat };
    await bench.program.dispatch("rows.enter", { ...at, rowId, cell, typed: String(value), label: "grain" });
  } else if (act.kind === "describe") {
    const stage = act.label === "" ? null : { x: "12.3", y: "-4" };
    await bench.program.dispatch("rows.describe", { ...at, rowId, label: act.label, note: "n", stage });
  } else if (act.kind === "strikeMany") {
    const rows = { from: act.from, to: act.from + act.more };
    await bench.program.dispatch("rows.strikeMany", { ...at, rows, reason: "dried" });
  } else if (act.kind === "strike") {
    await bench.program.dispatch("rows.strike", { ...at, rowId, reason: "broken" });
  } else {
    const objectiveId = scene.microscope.objectives.find((one) => one.position === act.position)?.id;
    const rows = { ids: [rowId] };
    await bench.program.dispatch("rows.changeObjective", { ...at, rows, objectiveId, reason: "wrong one" });
  }
}

describe("undo and redo", () => {
  /** Performs the acts; every different state on the way, the first included. */
  async function statesOf(acts: readonly Act[], prefix: string): Promise<Seen[]> {
    const states = [await seen()];
    for (const act of acts) {
      await perform(act, prefix);
      const now = await seen();
      if (JSON.stringify(now) !== JSON.stringify(states.at(-1))) states.push(now);
    }
    return states;
  }

  async function expectThrough(name: "rows.undo" | "rows.redo", states: readonly Seen[]): Promise<void> {
    for (const state of states) {
      await take(name);
      expect(await seen()).toEqual(state);
    }
  }

  it("restore the exact rows after any sequence of acts, also when the program is opened again between", async () => {
    let run = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(ACT, { maxLength: 14 }), fc.boolean(), async (acts, reopens) => {
        run += 1;
        const states = await statesOf(acts, `run${run}`);
        const back = states.slice(0, -1).reverse();
        if (reopens) await bench.reopen();
        await expectThrough("rows.undo", back);
        if (reopens) await bench.reopen();
        await expectThrough("rows.redo", states.slice(1));
        // Taken back again, so that the next run starts from rows it knows.
        await expectThrough("rows.undo", back);
      }),
      { numRuns: 60 },
    );
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  }, 120_000);

  it("take a selection of struck rows back as one act, and leave what was struck before it", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await enterLength(bench, scene, "row-2", "10", "31");
    await enterLength(bench, scene, "row-3", "10", "32");
    const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
    await bench.call("rows.strike", { ...about(), rowId: "row-2", reason: "broken grain" });
    const input = { ...about(), rows: { from: 1, to: 9 }, reason: "the slide had dried" };
    const struck = await bench.call("rows.strikeMany", input);
    expect(struck).toMatchObject({ count: 2, from: 1, to: 3 });
    expect(await bench.call("rows.strikeMany", input), "a repeated request").toEqual(struck);
    expect((await seen()).rows.map((row) => row.struck?.reason)).toEqual([
      "the slide had dried",
      "broken grain",
      "the slide had dried",
    ]);
    expect(await bench.refusal("rows.strikeMany", { ...input, ...about() })).toMatchObject({
      code: "row.struck",
    });
    expect(await take("rows.undo")).toMatchObject({ words: "striking 2 rows" });
    expect((await seen()).rows.map((row) => row.struck?.reason)).toEqual([
      undefined,
      "broken grain",
      undefined,
    ]);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("say what was taken back, which rows are gone and what can be next", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    const first = await take("rows.undo");
    expect(first).toMatchObject({
      words: "30 in row 1, Length, right edge",
      undo: "10 in row 1, Length, left edge",
      redo: "30 in row 1, Length, right edge",
      changed: { count: 1, from: 1, to: 1, gone: [], total: 1 },
    });
    expect(first.changed.rows[0]?.measurements[0]).toMatchObject({ left: "10", right: null, size: null });
    const second = await take("rows.undo");
    expect(second).toMatchObject({
      undo: null,
      changed: { rows: [], gone: ["row-1"], from: null, total: 0 },
    });
    expect(
      (await bench.refusal("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id })).code,
    ).toBe("undo.nothing");
  });

  it("have nothing to do again once something new was entered", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await take("rows.undo");
    await enter(bench, scene, "row-1", { dimension: "length", edge: "right" }, "31");
    const refused = await bench.refusal("rows.redo", { requestId: bench.request(), sheetId: scene.sheet.id });
    expect(refused.code).toBe("redo.nothing");
    expect((await take("rows.undo")).words).toBe("31 in row 1, Length, right edge");
  });

  it("keep every result they take away, and the trail tells of them", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    await take("rows.undo");
    const kept = await bench.call("rows.superseded", { rowId: "row-1" });
    expect(kept).toMatchObject([
      { act: "rows.undo", by: scene.personId, measurement: { left: "10", right: "30", divisions: "20" } },
    ]);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(line).toMatchObject({ act: "rows.undo", subjectId: "row-1", personId: scene.personId });
    expect(JSON.parse(line?.detail ?? "")).toMatchObject({ onSheet: true, now: { length: { left: "10" } } });
  });

  it("answer a repeated request without acting twice", async () => {
    await enterLength(bench, scene, "row-1", "10", "30");
    const input = { requestId: bench.request(), sheetId: scene.sheet.id };
    const once = await bench.call("rows.undo", input);
    expect(await bench.call("rows.undo", input)).toEqual(once);
    expect((await seen()).rows[0]?.measurements[0]?.left).toBe("10");
  });

  it("take a reading for a row that was taken away as a new row", async () => {
    await enter(bench, scene, "row-1", { dimension: "length", edge: "left" }, "10");
    await enter(bench, scene, "row-1", { dimension: "width", edge: "left" }, "3");
    await take("rows.undo");
    await take("rows.undo");
    const again = await enter(bench, scene, "row-1", { dimension: "length", edge: "left" }, "12");
    expect(again).toMatchObject({ ordinal: 1, measurements: [{ dimension: "length", left: "12" }] });
    expect(await measurementDifferences(bench.paths.databaseFile)).toEqual([]);
  });
});
