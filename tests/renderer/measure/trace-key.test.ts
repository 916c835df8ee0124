import { describe, expect, it, vi } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { newGrid } from "#renderer/grid/grid-state.ts";
import { GridStore } from "#renderer/grid/grid-store.ts";
import { followToResult } from "#renderer/screens/measure/use-trace-key.ts";
import { COLUMNS, OBJECTIVES } from "../grid/grid-fixture.ts";

/** A sheet that has just been opened: the cursor stands below its rows, which are not here yet. */
function justOpened(total: number) {
  const given = { columns: COLUMNS, objectives: OBJECTIVES, objectiveId: "o1", total, firstRowId: "new" };
  return new GridStore(newGrid(given), () => "id");
}

function row(ordinal: number): SpecimenRow {
  const measurements = [{ dimension: "polar", repeats: [] }];
  return { id: `row-${ordinal}`, ordinal, label: "", note: "", struck: null, measurements } as never;
}

describe("F9 before the rows are here", () => {
  it("opens the last result once they have come, and once only", () => {
    const store = justOpened(2);
    const open = vi.fn();
    expect(followToResult(store, open)).not.toBeNull();
    expect(open).not.toHaveBeenCalled();
    store.dispatch({ type: "pageArrived", from: 1, rows: [row(1), row(2)], total: 2 });
    store.dispatch({ type: "pageArrived", from: 1, rows: [row(1), row(2)], total: 2 });
    expect(open.mock.calls).toEqual([[{ rowId: "row-2", dimension: "polar" }]]);
  });

  it("opens nothing when the screen was left before", () => {
    const store = justOpened(2);
    const open = vi.fn();
    followToResult(store, open)?.();
    store.dispatch({ type: "pageArrived", from: 1, rows: [row(1), row(2)], total: 2 });
    expect(open).not.toHaveBeenCalled();
  });

  it("says that there is none on an empty sheet", () => {
    expect(followToResult(justOpened(0), vi.fn())).toBeNull();
  });
});
