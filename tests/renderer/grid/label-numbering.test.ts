import { describe, expect, it } from "vitest";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { newGrid, recordAt } from "#renderer/grid/grid-state.ts";
import { proposedLabel } from "#renderer/grid/label-numbering.ts";
import { rowViews } from "#renderer/grid/row-view.ts";
import { cueOf } from "#renderer/screens/measure/measure-cues.ts";
import { FakeService, GridDriver } from "./grid-fixture.ts";

/** Two rows of a specimen each, by the keypad; invented inputs. */
function measured(label: string): { grid: GridDriver; service: FakeService } {
  const grid = new GridDriver();
  const service = new FakeService();
  for (const character of label) grid.key(character);
  grid.key("Enter");
  for (const reading of ["1", "2", "3", "4"]) grid.take(reading);
  while (grid.state.outbox.length > 0) grid.answer(service);
  return { grid, service };
}

describe("automatic numbering of labels", () => {
  it("proposes the number after that of the row above, and + takes it where the cursor stands on the next specimen", () => {
    const { grid, service } = measured("Ulmus 9");
    expect(grid.at).toBe("1:polar.left");
    expect(proposedLabel(grid.state, 1)).toBe("Ulmus 10");
    const before = grid.state;
    grid.key("+");
    expect(grid.at).toBe("1:polar.left");
    expect(grid.state.remark).toMatchObject({ text: "Row 2 is Ulmus 10.", done: true });
    expect(cueOf(before, grid.state, () => "")).toEqual({ tone: "taken", words: "Ulmus 10" });
    grid.take("5");
    while (grid.state.outbox.length > 0) grid.answer(service);
    expect(recordAt(grid.state, 1)?.label).toBe("Ulmus 10");
    expect(proposedLabel(grid.state, 1)).toBeNull();
    expect(proposedLabel(grid.state, 2)).toBe("Ulmus 11");
  });

  it("proposes nothing after a label without a number, and * still repeats the label above", () => {
    const { grid } = measured("Ulmus");
    expect(proposedLabel(grid.state, 1)).toBeNull();
    grid.key("+");
    expect(grid.state.fresh.map((row) => row.label)).toEqual([""]);
    grid.key("*");
    expect(grid.state.fresh[0]?.label).toBe("Ulmus");
    const numbered = measured("B-09").grid;
    numbered.key("*");
    expect(numbered.state.fresh[0]?.label).toBe("B-09");
  });

  it("a reading under way is taken by +, never swallowed by a proposal", () => {
    const { grid, service } = measured("Ulmus 9");
    grid.keys("7", "+");
    expect(grid.sent.at(-1)).toMatchObject({ kind: "enter", typed: "7", label: "" });
    while (grid.state.outbox.length > 0) grid.answer(service);
    expect(grid.at).toBe("2:polar.left");
  });

  it("the blank row is drawn again when the label above it changes", () => {
    const { grid, service } = measured("Ulmus 9");
    const view = rowViews(1);
    expect(view(grid.state).proposed).toBe("Ulmus 10");
    grid.send({ type: "focusCell", row: 0, column: 1 });
    for (const key of ["F2", "0", "Enter"]) grid.key(key);
    while (grid.state.outbox.length > 0) grid.answer(service);
    expect(view(grid.state).proposed).toBe("Ulmus 91");
  });
});

describe("stage coordinates", () => {
  const plan = { dimensions: [{ key: "polar" }], entry: "two-edges", repeats: 1 } as const;
  const columns = columnsFor({ ...plan, stage: true });

  function withStage(): { grid: GridDriver; service: FakeService } {
    const grid = new GridDriver();
    const state = newGrid({
      columns: columnsFor(plan),
      objectives: [],
      objectiveId: "o1",
      total: 0,
      firstRowId: "r1",
    });
    grid.state = state;
    grid.send({ type: "columns", columns });
    return { grid, service: new FakeService() };
  }
  const at = ({ state }: GridDriver): string => `${state.cursor.row}:${columns[state.cursor.column]?.key}`;

  it("are columns by choice, in the way of Enter after the readings, and stored with the row", () => {
    const { grid, service } = withStage();
    expect(at(grid)).toBe("0:polar.left");
    for (const text of ["1", "2", "12,4"]) grid.take(text);
    expect(at(grid)).toBe("0:stage.y");
    grid.take("101.5");
    expect(at(grid)).toBe("1:polar.left");
    while (grid.state.outbox.length > 0) grid.answer(service);
    expect(recordAt(grid.state, 0)?.stage).toEqual({ x: "12,4", y: "101.5" });
  });

  it("left empty are gone past with Enter; what is no number stays in its cell", () => {
    const { grid } = withStage();
    for (const text of ["1", "2"]) grid.take(text);
    grid.keys("Enter", "Enter");
    expect(at(grid)).toBe("1:polar.left");
    grid.key("-");
    expect(at(grid)).toBe("0:stage.y");
    grid.send({ type: "typed", text: "A4" });
    grid.key("Enter");
    expect(grid.state.editing?.text).toBe("A4");
    expect(grid.state.remark?.text).toMatch(/^The coordinate /);
  });

  it("typed before the first reading go with the row it begins", () => {
    const { grid, service } = withStage();
    grid.send({ type: "focusCell", row: 0, column: columns.findIndex((one) => one.key === "stage.x") });
    grid.take("7");
    expect(grid.sent).toEqual([]);
    grid.send({ type: "focusCell", row: 0, column: columns.findIndex((one) => one.key === "polar.left") });
    grid.take("1");
    while (grid.state.outbox.length > 0) grid.answer(service);
    expect(recordAt(grid.state, 0)?.stage).toEqual({ x: "7", y: "" });
  });

  it("hiding them keeps the cursor in its column", () => {
    const { grid } = withStage();
    grid.send({ type: "focusCell", row: 0, column: columns.findIndex((one) => one.key === "note") });
    grid.send({ type: "columns", columns: columnsFor(plan) });
    expect(grid.state.columns[grid.state.cursor.column]?.key).toBe("note");
  });
});
