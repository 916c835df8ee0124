import { describe, expect, it } from "vitest";
import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { GridAction } from "#renderer/grid/grid-action.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import type { GridEffect } from "#renderer/grid/grid-effect.ts";
import { answerKey } from "#renderer/grid/grid-keys.ts";
import { reduceGrid } from "#renderer/grid/grid-reducer.ts";
import { type GridState, newGrid, recordAt } from "#renderer/grid/grid-state.ts";

let made = 0;
const newId = (): string => `id-${++made}`;

function row(ordinal: number, label: string): SpecimenRow {
  return {
    id: `row-${ordinal}`,
    sheetId: "s",
    ordinal,
    label,
    note: "",
    stage: null,
    struck: null,
    measurements: [],
  } as unknown as SpecimenRow;
}

function opened(rows: readonly SpecimenRow[]): GridState {
  const columns = columnsFor({ dimensions: [{ key: "length" }], entry: "two-edges", repeats: 1 });
  const blank = newGrid({ columns, objectives: [], objectiveId: "o", total: rows.length, firstRowId: "new" });
  return reduceGrid(blank, { type: "pageArrived", from: 1, rows, total: rows.length }, newId).state;
}

function run(state: GridState, ...actions: readonly GridAction[]) {
  const effects: GridEffect[] = [];
  let now = state;
  for (const action of actions) {
    const done = reduceGrid(now, action, newId);
    now = done.state;
    effects.push(...done.effects);
  }
  return { state: now, effects };
}

const changed = (part: Partial<RowsChanged>): RowsChanged => ({
  count: 1,
  from: null,
  to: null,
  rows: [],
  gone: [],
  total: 2,
  ...part,
});

const undone = (part: Partial<RowsChanged>, requestId: string): GridAction => ({
  type: "takenBack",
  requestId,
  undone: { words: "row 3", changed: changed(part), undo: null, redo: "row 3" },
});

const press = (key: string, shift = false) =>
  ({
    key,
    code: "",
    location: 0,
    ctrl: true,
    alt: false,
    meta: false,
    shift,
    composing: false,
    numLock: true,
  }) as never;

describe("undo and redo in the grid", () => {
  const three = opened([row(1, "a"), row(2, "b"), row(3, "c")]);

  it("Ctrl+Z, Ctrl+Y and Ctrl+Shift+Z ask for them where no text is open", () => {
    expect(answerKey(three, press("z"))?.action).toEqual({ type: "undo" });
    expect(answerKey(three, press("y"))?.action).toEqual({ type: "redo" });
    expect(answerKey(three, press("Z", true))?.action).toEqual({ type: "redo" });
    const typing: GridState = { ...three, editing: { text: "12", mode: "replace", touched: true } };
    expect(answerKey(typing, press("z"))).toBeNull();
  });

  it("goes out in its place in the queue, behind what was typed before it", () => {
    const { state, effects } = run(three, { type: "undo" }, { type: "redo" });
    expect(state.outbox.map((item) => item.kind)).toEqual(["undo", "redo"]);
    expect(effects.flatMap((one) => (one.type === "send" ? [one.item.kind] : []))).toEqual(["undo"]);
  });

  it("takes a row off the grid, says what it did and keeps the cursor on the next specimen", () => {
    const asked = run(three, { type: "undo" }).state;
    const requestId = asked.underWay ?? "";
    const { state } = run(asked, undone({ gone: ["row-3"], total: 2 }, requestId));
    expect(state.total).toBe(2);
    expect(recordAt(state, 2)).toBeUndefined();
    expect(state.cursor.row).toBe(2);
    expect(state.remark).toMatchObject({ text: "Taken back: row 3", done: true });
    expect(state.outbox).toEqual([]);
  });

  it("puts changed rows in their places", () => {
    const asked = run(three, { type: "undo" }).state;
    const back = { rows: [row(2, "before")], count: 1, total: 3 };
    const { state } = run(asked, undone(back, asked.underWay ?? ""));
    expect(recordAt(state, 1)?.label).toBe("before");
    expect(state.total).toBe(3);
  });

  it("fetches again when too many rows changed to be sent", () => {
    const asked = run(three, { type: "undo" }).state;
    const { state, effects } = run(asked, undone({ count: 500, total: 3 }, asked.underWay ?? ""));
    expect(recordAt(state, 0)).toBeUndefined();
    expect(effects).toContainEqual({ type: "load", page: 0, later: false });
  });

  it("a refusal is said and changes nothing", () => {
    const asked = run(three, { type: "undo" }).state;
    const message = "There is nothing to undo on this sheet.";
    const { state } = run(asked, {
      type: "refused",
      requestId: asked.underWay ?? "",
      code: "undo.nothing",
      message,
    });
    expect(state.remark).toMatchObject({ text: message, done: false });
    expect(state.total).toBe(3);
  });
});

describe("the way to take an act back, beside the words that tell of it", () => {
  const struck = (grid: GridState): GridState => {
    const asked = run(grid, { type: "strike", rowId: "row-2", reason: "broken" });
    const sent = asked.effects.find((effect) => effect.type === "send");
    if (sent?.type !== "send") throw new Error("nothing was sent");
    const { requestId } = sent.item;
    return run(asked.state, { type: "rowStored", requestId, row: row(2, "b") }).state;
  };
  const three = opened([row(1, "a"), row(2, "b"), row(3, "c")]);

  it("is there after a strike, a paste or a change of objective", () => {
    expect(struck(three).remark).toMatchObject({ text: "Row 2 struck.", undoable: true });
    const pasted = run(three, {
      type: "rowsChanged",
      changed: changed({ count: 3, total: 3 }),
      words: "3 rows",
    });
    expect(pasted.state.remark).toMatchObject({ text: "3 rows", undoable: true });
  });

  it("is not there where nothing was changed, nor after it was taken back", () => {
    const nothing = run(three, {
      type: "rowsChanged",
      changed: changed({ count: 0, total: 3 }),
      words: "none",
    });
    expect(nothing.state.remark?.undoable).toBeUndefined();
    const asked = run(struck(three), { type: "undo" });
    const sent = asked.effects.find((effect) => effect.type === "send");
    if (sent?.type !== "send") throw new Error("nothing was sent");
    const back = run(asked.state, undone({ total: 3 }, sent.item.requestId)).state;
    expect(back.remark?.undoable).toBeUndefined();
  });

  it("goes when another act has been stored, which undo would take back first", () => {
    const described = run(struck(three), { type: "strike", rowId: "row-3", reason: "lost" });
    const sent = described.effects.find((effect) => effect.type === "send");
    if (sent?.type !== "send") throw new Error("nothing was sent");
    const item = { ...sent.item, kind: "describe" } as const;
    const another = { ...described.state, outbox: [item as never] };
    const after = run(another, { type: "rowStored", requestId: item.requestId, row: row(3, "c") }).state;
    expect(after.remark).toBeNull();
  });
});
