import { describe, expect, it } from "vitest";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import { recordAt, rowCount } from "#renderer/grid/grid-state.ts";
import { column, GridDriver } from "./grid-fixture.ts";

const changed = (part: Partial<RowsChanged>): RowsChanged => ({
  count: 0,
  from: null,
  to: null,
  rows: [],
  gone: [],
  total: 0,
  ...part,
});

const row = (ordinal: number) =>
  ({
    id: `row-${ordinal}`,
    ordinal,
    label: `r${ordinal}`,
    note: "",
    struck: null,
    measurements: [],
  }) as never;

const loads = (grid: GridDriver): readonly number[] =>
  grid.effects.flatMap((effect) => (effect.type === "load" ? [effect.page] : []));

describe("an act on several rows, told to the grid", () => {
  it("of few rows puts them in their places and keeps the cursor at the next specimen", () => {
    const grid = new GridDriver(0);
    grid.send({
      type: "rowsChanged",
      changed: changed({ count: 2, rows: [row(1), row(2)], total: 2 }),
      words: "2 rows taken in",
    });
    expect(grid.at).toBe("2:polar.left");
    expect(recordAt(grid.state, 1)?.label).toBe("r2");
    expect(grid.state.remark).toMatchObject({ text: "2 rows taken in", done: true });
    expect(grid.state.lastChanged?.count).toBe(2);
  });

  it("of many rows keeps the cursor at the next specimen and fetches the pages around it again", () => {
    const grid = new GridDriver(150);
    grid.send({
      type: "rowsChanged",
      changed: changed({ count: 9996, total: 10_146 }),
      words: "9996 rows taken in",
    });
    expect(grid.at).toBe("10146:polar.left");
    expect(rowCount(grid.state)).toBe(10_147);
    expect(loads(grid)).toEqual([101, 100]);
  });

  it("leaves the cursor on a stored row where it is", () => {
    const grid = new GridDriver(350);
    grid.send({ type: "focusCell", row: 120, column: column("polar.right") });
    grid.send({ type: "rowsChanged", changed: changed({ count: 300, total: 400 }), words: "300 rows" });
    expect(grid.at).toBe("120:polar.right");
    expect(loads(grid)).toEqual([1, 0, 2]);
  });
});

describe("one pasted cell", () => {
  it("stands in the editor as typed text: Enter takes it, Escape gives it up", () => {
    const grid = new GridDriver(0);
    grid.send({ type: "pasteText", text: "41.5" });
    expect(grid.state.editing).toEqual({ text: "41.5", mode: "replace", touched: true });
    grid.key("Enter");
    expect(grid.sent).toMatchObject([{ kind: "enter", typed: "41.5" }]);
    grid.send({ type: "pasteText", text: "60" });
    grid.key("Escape");
    expect(grid.state.editing).toBeNull();
    expect(grid.state.outbox).toHaveLength(1);
  });

  it("is refused in words on a computed cell, and on a row that is still being fetched", () => {
    const grid = new GridDriver(0);
    grid.send({ type: "focusCell", row: 0, column: column("polar.size") });
    grid.send({ type: "pasteText", text: "41.5" });
    expect(grid.state.editing).toBeNull();
    expect(grid.state.remark?.text).toContain("computed");
    const far = new GridDriver(500);
    far.send({ type: "focusCell", row: 3, column: column("polar.left") });
    far.send({ type: "pasteText", text: "41.5" });
    expect(far.state.remark?.text).toContain("still being fetched");
  });
});
