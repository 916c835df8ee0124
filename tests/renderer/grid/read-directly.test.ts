import { describe, expect, it } from "vitest";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { cellTextAt } from "#renderer/grid/cell-text.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { answerKey } from "#renderer/grid/grid-keys.ts";
import { COLUMNS, column, FakeService, GridDriver, press } from "./grid-fixture.ts";

/** A row whose polar axis was read directly and whose equatorial axis at its edges, on a sheet read at two edges. */
const ROW: SpecimenRow = {
  id: "r1",
  sheetId: "s",
  ordinal: 1,
  label: "old notebook",
  note: "",
  stage: null,
  struck: null,
  measurements: (["polar", "equatorial"] as const).map((dimension) => ({
    dimension,
    entry: dimension === "polar" ? ("direct" as const) : ("two-edges" as const),
    left: dimension === "polar" ? null : "10",
    right: dimension === "polar" ? null : "50",
    direct: dimension === "polar" ? "40.0" : null,
    repeats: [],
    trainId: "t",
    calibrationId: null,
    divisions: "40" as never,
    size: null,
    missing: null,
    flags: [],
    enteredAt: "2026-03-02T09:00:00.000Z",
    enteredBy: "p",
  })),
};

function gridWith(row: SpecimenRow): GridDriver {
  const grid = new GridDriver(1);
  grid.send({ type: "pageArrived", from: 1, rows: [row], total: 1 });
  return grid;
}

function at(grid: GridDriver, key: string): void {
  grid.send({ type: "focusCell", row: 0, column: column(key) });
}

describe("a reading taken directly where edges are read", () => {
  it("stands in its divisions as typed, and is corrected there", () => {
    const grid = gridWith(ROW);
    expect(cellTextAt(grid.state, 0, column("polar.divisions"))).toEqual({
      text: "40.0",
      status: "stored",
      message: null,
    });
    at(grid, "polar.divisions");
    grid.keys(..."41.5", "Enter");
    expect(grid.sent.at(-1)).toMatchObject({
      kind: "enter",
      rowId: "r1",
      cell: { dimension: "polar", edge: "direct", repeat: 1 },
      typed: "41.5",
    });
    expect(cellTextAt(grid.state, 0, column("polar.divisions")).status).toBe("pending");
  });

  it("refused stays in its cell, and F3 finds it", () => {
    const grid = gridWith(ROW);
    const service = new FakeService();
    service.refuse = () => "the sheet is closed";
    at(grid, "polar.divisions");
    grid.keys("4", "2", "Enter");
    grid.answer(service);
    at(grid, "label");
    grid.key("F3");
    expect(grid.at).toBe("0:polar.divisions");
    expect(cellTextAt(grid.state, 0, column("polar.divisions"))).toMatchObject({
      text: "42",
      status: "refused",
      message: "the sheet is closed",
    });
  });

  it("half-typed comes back into its cell", () => {
    const grid = gridWith(ROW);
    const cell = { dimension: "polar", edge: "direct", repeat: 1 } as const;
    grid.send({ type: "draftsArrived", drafts: [{ sheetId: "s", rowId: "r1", cell, typed: "4" }] });
    expect(grid.at).toBe("0:polar.divisions");
    expect(grid.state.editing?.text).toBe("4");
  });

  it("does not open the divisions of what was read at its edges, nor of what is read several times", () => {
    const grid = gridWith(ROW);
    at(grid, "equatorial.divisions");
    grid.keys("7", "Enter");
    expect(grid.sent).toEqual([]);
    expect(grid.state.editing).toBeNull();
    const [polar, equatorial] = ROW.measurements;
    if (!polar || !equatorial) throw new Error("the row has two measurements");
    const again = { number: 2, left: null, right: null, direct: "41" };
    const repeated = gridWith({ ...ROW, measurements: [{ ...polar, repeats: [again] }, equatorial] });
    at(repeated, "polar.divisions");
    repeated.keys("7");
    expect(repeated.state.editing).toBeNull();
  });

  it("has its own column where a method reads directly", () => {
    const columns = columnsFor({ dimensions: [{ key: "polar" }], entry: "direct", repeats: 1 });
    const grid = gridWith(ROW);
    const direct = { ...grid.state, columns };
    const place = columns.findIndex(({ key }) => key === "polar.divisions");
    const there = { ...direct, cursor: { row: 0, column: place } };
    expect(answerKey(there, press("7"))?.action ?? null).toBeNull();
    expect(COLUMNS).not.toBe(columns);
  });
});
