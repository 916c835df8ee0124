import { describe, expect, it } from "vitest";
import { mappedFields } from "#renderer/screens/count/counts/field-map.ts";

const at = (ordinal: number, x: string, y: string) => ({ ordinal, position: { x, y } });

describe("the map of counted fields", () => {
  it("keeps one scale in both directions and leaves fields without a position out", () => {
    const placed = mappedFields([
      at(1, "10", "5"),
      { ordinal: 2, position: null },
      at(3, "30", "5"),
      at(4, "20,0", "15"),
    ]);
    expect(placed.map(({ field, across, up }) => [field, across, up])).toEqual([
      [1, 0, 0.25],
      [3, 1, 0.25],
      [4, 0.5, 0.75],
    ]);
  });

  it("draws a single field in the middle", () => {
    expect(mappedFields([at(1, "62.4", "14.8")])[0]).toMatchObject({ across: 0.5, up: 0.5 });
  });

  it("is empty without positions", () => {
    expect(mappedFields([{ ordinal: 1, position: null }])).toEqual([]);
  });
});
