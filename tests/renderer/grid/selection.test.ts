import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rowCount } from "#renderer/grid/grid-state.ts";
import { rowView, rowViews } from "#renderer/grid/row-view.ts";
import { selectedRectangle, selectedSpan, selectionWords } from "#renderer/grid/selection.ts";
import { COLUMNS, column, GridDriver } from "./grid-fixture.ts";

const LAST = COLUMNS.length - 1;
const SHIFT = { shift: true };
const CTRL = { ctrl: true };
const BOTH = { ctrl: true, shift: true };

/** A sheet of `total` stored rows, none of them fetched, the cursor on the first label. */
function sheetOf(total: number): GridDriver {
  const grid = new GridDriver(total);
  grid.send({ type: "focusCell", row: 0, column: column("label") });
  return grid;
}

describe("the selection", () => {
  it("is a rectangle from where it was begun to the cursor, whichever way it is extended", () => {
    const grid = sheetOf(20);
    grid.send({ type: "focusCell", row: 5, column: 3 });
    for (let at = 0; at < 2; at += 1) grid.key("ArrowDown", SHIFT);
    grid.key("ArrowRight", SHIFT);
    expect(selectedRectangle(grid.state)).toEqual({ fromRow: 5, toRow: 7, fromColumn: 3, toColumn: 4 });
    expect(selectionWords(grid.state)).toBe("3 rows × 2 columns selected");
    for (let at = 0; at < 4; at += 1) grid.key("ArrowUp", SHIFT);
    expect(selectedRectangle(grid.state)).toEqual({ fromRow: 3, toRow: 5, fromColumn: 3, toColumn: 4 });
    grid.key("Home", SHIFT);
    expect(selectedRectangle(grid.state)).toMatchObject({ fromColumn: 0, toColumn: 3 });
    grid.key("End", SHIFT);
    expect(selectedRectangle(grid.state)).toMatchObject({ fromColumn: 3, toColumn: LAST });
    grid.key("End", BOTH);
    expect(selectedRectangle(grid.state)).toMatchObject({ fromRow: 5, toRow: 20 });
  });

  it("takes whole rows, whole columns or everything, without the blank row at the end", () => {
    const grid = sheetOf(100);
    grid.key(" ", SHIFT);
    expect(selectionWords(grid.state)).toBe("1 row selected");
    for (let at = 0; at < 11; at += 1) grid.key("ArrowDown", SHIFT);
    expect(selectionWords(grid.state)).toBe("12 rows selected");
    expect(selectedRectangle(grid.state)).toEqual({ fromRow: 0, toRow: 11, fromColumn: 0, toColumn: LAST });
    grid.key(" ", CTRL);
    expect(selectionWords(grid.state)).toBe("1 column of 100 rows selected");
    grid.key("ArrowRight", SHIFT);
    expect(selectionWords(grid.state)).toBe("2 columns of 100 rows selected");
    grid.key("a", CTRL);
    expect(selectionWords(grid.state)).toBe("All 100 rows selected");
    expect(selectedRectangle(grid.state)).toEqual({ fromRow: 0, toRow: 99, fromColumn: 0, toColumn: LAST });
  });

  it("ends when the cursor moves on, something is typed, or Escape is pressed", () => {
    for (const key of ["ArrowLeft", "Escape", "1", "/", "+", "PageUp", "k"]) {
      const grid = new GridDriver();
      grid.key("ArrowRight", SHIFT);
      expect(grid.state.selection).not.toBeNull();
      grid.key(key);
      expect([key, grid.state.selection]).toEqual([key, null]);
    }
  });

  it("leaves Ctrl+A, Shift with arrows and Shift+Space to the text while an editor is open", () => {
    const grid = new GridDriver();
    grid.keys("1", "2");
    grid.key("a", CTRL);
    grid.key("ArrowLeft", SHIFT);
    expect(grid.state.editing?.text).toBe("12");
    expect(grid.state.selection).toBeNull();
    const label = new GridDriver();
    label.keys("B");
    label.key(" ", SHIFT);
    expect(label.state.editing?.text).toBe("B ");
  });

  it("is the same size whatever it covers, and a view of a row tells what of it is selected", () => {
    const KEYS = ["ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"];
    const presses = fc.array(
      fc.record({
        key: fc.constantFrom(...KEYS, " ", "a"),
        shift: fc.boolean(),
        ctrl: fc.boolean(),
      }),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(presses, fc.constantFrom(0, 1, 7, 100_000), (keys, total) => {
        const grid = sheetOf(total);
        const looked = [0, 1, 6, total].map((row) => ({ row, view: rowViews(row) }));
        for (const { key, ...held } of keys) {
          if (key.length === 1 && !held.ctrl && !held.shift) continue;
          grid.key(key, held);
          const { state } = grid;
          const rectangle = selectedRectangle(state);
          if (rectangle) {
            const { selection, cursor } = state;
            expect(selection?.focus).toEqual(cursor);
            expect(JSON.stringify(selection).length).toBeLessThan(120);
            expect(rectangle.fromRow).toBeGreaterThanOrEqual(0);
            expect(rectangle.toRow).toBeLessThan(rowCount(state));
            expect(rectangle.toColumn).toBeLessThan(COLUMNS.length);
          }
          for (const { row, view } of looked) {
            const inside = rectangle !== null && row >= rectangle.fromRow && row <= rectangle.toRow;
            expect(selectedSpan(state, row) !== null).toBe(inside);
            expect(view(state)).toEqual(rowView(state, row));
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});
