import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rowView, rowViews } from "#renderer/grid/row-view.ts";
import { GridDriver } from "./grid-fixture.ts";

const KEYS = ["1", "2", ".", "Enter", "+", "/", "*", "-", "A", "Escape", "ArrowUp", "ArrowDown", "ArrowLeft"];

describe("the views of a row", () => {
  it("stay the very same object while a digit is typed in another row", () => {
    const grid = new GridDriver();
    grid.keys("1", "Enter", "2", "Enter", "+");
    const first = rowViews(0);
    const own = rowViews(grid.state.cursor.row);
    const before = first(grid.state);
    const typedBefore = own(grid.state);
    grid.key("7");
    expect(first(grid.state)).toBe(before);
    expect(own(grid.state)).not.toBe(typedBefore);
  });

  it("are what a fresh look would give, whatever is pressed", () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...KEYS), { maxLength: 60 }), (keys) => {
        const grid = new GridDriver();
        const rows = [0, 1, 2, 3].map((index) => rowViews(index));
        for (const key of keys) {
          grid.key(key);
          rows.forEach((view, index) => {
            expect(view(grid.state)).toEqual(rowView(grid.state, index));
          });
        }
      }),
      { numRuns: 60 },
    );
  });
});
