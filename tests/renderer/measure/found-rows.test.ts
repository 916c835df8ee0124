import { describe, expect, it } from "vitest";
import { findRows, inOrder, nextFlagged } from "#renderer/screens/measure/find/found-rows.ts";
import type { SeenRow } from "#renderer/screens/measure/sheet-summary.ts";

const row = (ordinal: number, label: string, rest: Partial<SeenRow> = {}): SeenRow => ({
  ordinal,
  label,
  flags: [],
  isUnfinished: false,
  ...rest,
});
const ROWS = [
  row(1, "Tilia 1"),
  row(2, "tilia 12", { flags: ["off-scale"] }),
  row(3, "Salix 2", { isUnfinished: true }),
  row(12, "Salix 3", { flags: ["off-scale"] }),
];
const ordinals = (rows: readonly SeenRow[]) => rows.map(({ ordinal }) => ordinal);

describe("finding rows", () => {
  it("puts the row of a number before labels that hold it", () => {
    expect(ordinals(findRows(ROWS, "12", "all"))).toEqual([12, 2]);
    expect(ordinals(findRows(ROWS, " 2 ", "all"))).toEqual([2, 3]);
  });

  it("are read by label, numbers in it as numbers, or as they were entered", () => {
    const rows = [row(1, "Tilia 10"), row(2, "tilia 9"), row(3, "Salix"), row(4, "tilia 9")];
    expect(ordinals(inOrder(rows, "label"))).toEqual([3, 2, 4, 1]);
    expect(ordinals(inOrder(rows, "entry"))).toEqual([1, 2, 3, 4]);
  });

  it("finds labels whatever their case, in the order of entry", () => {
    expect(ordinals(findRows(ROWS, "TILIA", "all"))).toEqual([1, 2]);
    expect(findRows(ROWS, "quercus", "all")).toEqual([]);
    expect(ordinals(findRows(ROWS, "", "all"))).toEqual([1, 2, 3, 12]);
  });

  it("shows only what is flagged or unfinished", () => {
    expect(ordinals(findRows(ROWS, "", "flagged"))).toEqual([2, 12]);
    expect(ordinals(findRows(ROWS, "", "unfinished"))).toEqual([3]);
    expect(ordinals(findRows(ROWS, "salix", "flagged"))).toEqual([12]);
  });

  it("goes to the next flagged row, round the end", () => {
    expect(nextFlagged(ROWS, 0)?.ordinal).toBe(2);
    expect(nextFlagged(ROWS, 2)?.ordinal).toBe(12);
    expect(nextFlagged(ROWS, 12)?.ordinal).toBe(2);
    expect(nextFlagged([row(1, "Tilia 1")], 1)).toBeNull();
  });
});
