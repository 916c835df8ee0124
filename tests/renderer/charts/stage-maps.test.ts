import { describe, expect, it } from "vitest";
import type { PlacedRow } from "#core/contract/records/sheet.ts";
import { stageMaps } from "#renderer/charts/stage-maps.ts";

const row = (ordinal: number, x: string, y: string, square?: string): PlacedRow => ({
  rowId: `row-${ordinal}`,
  ordinal,
  label: "",
  isStruck: false,
  stage: square === undefined ? { x, y } : { x, y, square },
});

describe("maps of the stage", () => {
  it("lie to one scale: 10 mm across are as long as 10 mm upwards", () => {
    const [map, ...more] = stageMaps([row(1, "20", "100"), row(2, "40", "100"), row(3, "20", "110")]);
    expect(more).toEqual([]);
    const [a, b, c] = map?.places ?? [];
    if (!a || !b || !c) throw new Error("three rows are on the map");
    expect(b.across - a.across).toBe(1);
    expect(c.up - a.up).toBe(0.5);
    expect(map?.ends).toEqual({ across: ["x 20", "x 40"], up: ["y 100", "y 110"] });
  });

  it("have letters from the left and numbers from above", () => {
    const [map] = stageMaps([row(1, "", "", "B3"), row(2, "", "", "d1")]);
    const [a, b] = map?.places ?? [];
    expect(map?.kind).toBe("squares");
    expect([a?.across, a?.up]).toEqual([0, 0]);
    expect([b?.across, b?.up]).toEqual([1, 1]);
    expect(map?.ends).toEqual({ across: ["B", "D"], up: ["3", "1"] });
  });

  it("leave out what earlier programs took for a coordinate and is none", () => {
    expect(stageMaps([row(1, "left", "3"), row(2, "1", "2")])[0]?.places.map(({ of }) => of.ordinal)).toEqual(
      [2],
    );
  });

  it("leave out a row with one coordinate alone, and are not there without a row", () => {
    expect(stageMaps([row(1, "20", "")])).toEqual([]);
    expect(stageMaps([])).toEqual([]);
    expect(stageMaps([row(1, "20,5", "3"), row(2, "", "", "A1")]).map(({ kind }) => kind)).toEqual([
      "verniers",
      "squares",
    ]);
  });
});
