import { describe, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { firstUnread, isAllRead, toNextUnread } from "#renderer/grid/given-rows.ts";
import { reduceGrid } from "#renderer/grid/grid-reducer.ts";
import { type GridState, newGrid } from "#renderer/grid/grid-state.ts";
import { placeRows } from "#renderer/grid/paging.ts";
import { COLUMNS, column, OBJECTIVES } from "./grid-fixture.ts";

const row = (ordinal: number): SpecimenRow => ({
  id: `r${ordinal}`,
  sheetId: "s",
  ordinal,
  label: "",
  note: "",
  stage: null,
  struck: null,
  measurements: [],
});

function given(notToRead: readonly string[] = []): GridState {
  const empty = newGrid({
    columns: COLUMNS,
    objectives: OBJECTIVES,
    objectiveId: "o1",
    total: 2,
    firstRowId: "",
  });
  const rows = placeRows(
    { ...empty, fresh: [], given: { notToRead: new Set(notToRead) } },
    [row(1), row(2)],
    2,
  );
  return { ...rows, cursor: firstUnread(rows) };
}

let ids = 0;
function take(state: GridState, text: string): GridState {
  const newId = (): string => {
    ids += 1;
    return `id-${ids}`;
  };
  const open = reduceGrid(state, { type: "typeOver" }, newId).state;
  const typed = reduceGrid(open, { type: "typed", text }, newId).state;
  return reduceGrid(typed, { type: "take", onward: "next" }, newId).state;
}

describe("a grid of given rows", () => {
  it("goes from reading to reading through the rows and never begins one", () => {
    let state = given();
    const places: string[] = [];
    for (let n = 0; n < 8; n += 1) {
      places.push(`${state.cursor.row}/${state.cursor.column}`);
      state = take(state, "10");
    }
    const keys = ["polar.left", "polar.right", "equatorial.left", "equatorial.right"].map(column);
    expect(places).toEqual([...keys.map((at) => `0/${at}`), ...keys.map((at) => `1/${at}`)]);
    expect(isAllRead(state)).toBe(true);
    expect(state.remark?.text).toBe("Every reading is there.");
    expect(state.total + state.fresh.length).toBe(2);
  });

  it("passes over cells in which there is nothing to read, and comes back to one left out", () => {
    const state = given(["r1/equatorial.left", "r1/equatorial.right"]);
    const next = toNextUnread(state, "specimen");
    expect(next.cursor).toEqual({ row: 1, column: column("polar.left") });
    const polar = take(take(state, "1"), "2");
    expect(polar.cursor).toEqual({ row: 1, column: column("polar.left") });
    const left = { ...state, cursor: { row: 1, column: column("equatorial.right") } };
    expect(take(left, "9").cursor).toEqual({ row: 0, column: column("polar.left") });
  });
});
