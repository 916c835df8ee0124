import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  columnLayout,
  LEAST_WIDTH,
  MOST_WIDTH,
  possibleWidth,
  widthStepOf,
} from "#renderer/grid/column-widths.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { press } from "./grid-fixture.ts";

const COLUMNS = columnsFor({ dimensions: [{ key: "length" }], entry: "direct", repeats: 1 });
const HEADS = COLUMNS.map((column) => ({ title: column.key, spoken: column.key, width: 4 }));

describe("the widths of columns", () => {
  it("are the usual ones but for those a person has chosen; the last takes what is left", () => {
    const { template, total, first, second } = columnLayout(COLUMNS, HEADS, { label: 11.5 });
    expect(template).toBe("4rem 11.5rem 4rem 4rem 4rem 4rem 4rem minmax(4rem, 1fr)");
    expect([total, first, second]).toEqual([39.5, 4, 11.5]);
  });

  it("never leave their limits, wherever the line is dragged", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), (rem) => {
        const width = possibleWidth(rem);
        expect(width).toBeGreaterThanOrEqual(LEAST_WIDTH);
        expect(width).toBeLessThanOrEqual(MOST_WIDTH);
        expect(possibleWidth(width)).toBe(width);
      }),
    );
  });

  it("have two keys; Back, and moving by words in an editor, are none of them", () => {
    expect(widthStepOf(press("ArrowRight", { alt: true, shift: true }))).toBe(0.5);
    expect(widthStepOf(press("ArrowLeft", { alt: true, shift: true }))).toBe(-0.5);
    expect(widthStepOf(press("ArrowLeft", { alt: true }))).toBe(0);
    expect(widthStepOf(press("ArrowRight", { shift: true, ctrl: true }))).toBe(0);
    expect(widthStepOf(press("ArrowUp", { alt: true, shift: true }))).toBe(0);
  });
});
