import { describe, expect, it } from "vitest";
import { cellTextAt } from "#renderer/grid/cell-text.ts";
import { rowCount } from "#renderer/grid/grid-state.ts";
import { column, FakeService, GridDriver } from "./grid-fixture.ts";

function cell(grid: GridDriver, row: number, key: string) {
  return cellTextAt(grid.state, row, column(key));
}

describe("entering readings", () => {
  it("goes left, right, next dimension, next row, one key after the other without waiting", () => {
    const grid = new GridDriver();
    const places = ["23.0", "51.5", "41.0", "60,5"].map((text) => {
      grid.take(text);
      return grid.at;
    });
    expect(places).toEqual(["0:polar.right", "0:equatorial.left", "0:equatorial.right", "1:polar.left"]);
    expect(cell(grid, 0, "equatorial.left")).toEqual({ text: "41.0", status: "pending", message: null });
    expect(grid.sent).toHaveLength(1);
  });

  it("sends in order, one at a time, with the text as typed and an identifier of its own", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    for (const text of ["23.0", "51.5", "41.0"]) grid.take(text);
    for (let turn = 0; turn < 3; turn += 1) grid.answer(service);
    expect(grid.sent.map((item) => (item.kind === "enter" ? item.typed : ""))).toEqual([
      "23.0",
      "51.5",
      "41.0",
    ]);
    expect(new Set(grid.sent.map((item) => item.requestId)).size).toBe(3);
    expect(grid.state.outbox).toEqual([]);
    expect(cell(grid, 0, "polar.left").status).toBe("stored");
    expect(grid.state.lastResult?.dimension).toBe("polar");
  });

  it("keeps a blank row at the end", () => {
    const grid = new GridDriver();
    expect(rowCount(grid.state)).toBe(1);
    grid.take("40");
    expect(rowCount(grid.state)).toBe(2);
    grid.answer(new FakeService());
    expect([grid.state.total, rowCount(grid.state)]).toEqual([1, 2]);
  });

  it("does not move on an Enter that bounces on an empty cell", () => {
    const grid = new GridDriver();
    grid.keys("Enter", "Enter");
    expect(grid.at).toBe("0:polar.left");
    expect(grid.state.remark?.text).toMatch(/Nothing is typed yet/);
  });

  it("leaves an unreadable text in its editor with the reason at its cell, and sends nothing", () => {
    const grid = new GridDriver();
    grid.take(".");
    expect(grid.at).toBe("0:polar.left");
    expect(grid.state.editing?.text).toBe(".");
    expect(grid.state.remark).toMatchObject({
      cell: "fresh-0/polar.left",
      text: expect.stringMatching(/number/),
    });
    expect(grid.sent).toEqual([]);
  });

  it("begins the next specimen with +, taking what is typed", () => {
    const grid = new GridDriver();
    grid.keys("4", "0", "+");
    expect(grid.at).toBe("1:polar.left");
    expect(grid.sent).toHaveLength(1);
    grid.key("+");
    expect(grid.at).toBe("1:polar.left");
  });

  it("steps back with - and reopens what was typed, again and again", () => {
    const grid = new GridDriver();
    grid.take("40");
    grid.take("60");
    grid.key("-");
    expect([grid.at, grid.state.editing?.text]).toEqual(["0:polar.right", "60"]);
    grid.key("-");
    expect([grid.at, grid.state.editing?.text]).toEqual(["0:polar.left", "40"]);
    grid.take("40.5");
    expect(grid.at).toBe("0:equatorial.left");
    expect(cell(grid, 0, "polar.left").text).toBe("40.5");
  });

  it("sends nothing when a reopened reading is taken unchanged", () => {
    const grid = new GridDriver();
    grid.take("40");
    grid.keys("-", "Enter");
    expect(grid.sent).toHaveLength(1);
    expect(grid.at).toBe("0:polar.right");
  });
});

describe("changing the objective", () => {
  it("chooses at once when no further digit could change the position", () => {
    const grid = new GridDriver();
    grid.keys("/", "2");
    expect(grid.state.turret).toBeNull();
    expect(grid.sent.at(-1)).toMatchObject({ kind: "objective", objectiveId: "o2" });
  });

  it("waits for Enter when it could", () => {
    const grid = new GridDriver();
    grid.keys("/", "1");
    expect(grid.state.turret).toBe("1");
    grid.key("2");
    expect(grid.sent.at(-1)).toMatchObject({ objectiveId: "o12" });
  });

  it("refuses a position without an objective", () => {
    const grid = new GridDriver();
    grid.keys("/", "7");
    expect(grid.state.remark?.text).toMatch(/no objective in position 7; there are 1, 2, 12/);
    expect(grid.sent).toEqual([]);
  });

  it("stays behind the readings typed before it", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    grid.keys("4", "0", "/", "2");
    grid.take("60");
    for (let turn = 0; turn < 3; turn += 1) grid.answer(service);
    expect(grid.sent.map((item) => item.kind)).toEqual(["enter", "objective", "enter"]);
    expect(grid.sent[2]).toMatchObject({ objectiveId: "o2" });
  });

  it("gives back the readings typed for an objective that is refused, unsent", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    service.refuse = (item) => (item.kind === "objective" ? "It is gone." : null);
    grid.keys("/", "2");
    grid.take("60");
    grid.answer(service);
    expect(cell(grid, 0, "polar.left")).toMatchObject({ text: "60", status: "refused" });
    expect(grid.sent.map((item) => item.kind)).toEqual(["objective"]);
    expect(grid.state.objectiveId).toBe("o1");
  });
});

describe("when the service refuses or does not answer", () => {
  it("puts the text back in its cell with the message and leaves the cursor where the person types", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    service.refuse = () => "Nobody is named at the bench.";
    grid.take("40");
    grid.key("6");
    grid.answer(service);
    expect(cell(grid, 0, "polar.left")).toEqual({
      text: "40",
      status: "refused",
      message: "Nobody is named at the bench.",
    });
    expect([grid.at, grid.state.editing?.text]).toEqual(["0:polar.right", "6"]);
    grid.keys("Escape", "F3");
    expect(grid.at).toBe("0:polar.left");
    grid.keys("F2", "Enter");
    expect(grid.sent).toHaveLength(2);
  });

  it("keeps a reading on its way and sends it again with the same identifier", () => {
    const grid = new GridDriver();
    grid.take("40");
    const first = grid.sent[0];
    grid.send({ type: "lost", requestId: first?.requestId ?? "" });
    expect(grid.state.hostLost).toBe(true);
    expect(cell(grid, 0, "polar.left").status).toBe("pending");
    grid.send({ type: "retry" });
    expect(grid.sent[1]).toEqual(first);
    grid.answer(new FakeService());
    expect(grid.state.hostLost).toBe(false);
  });

  it("keeps the cursor on its row when rows change places", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    service.refuse = (item) => (item.kind === "enter" && item.rowId === "fresh-0" ? "Refused." : null);
    grid.keys("4", "0", "+");
    grid.take("50");
    const second = grid.state.fresh[1]?.id;
    grid.answer(service);
    grid.answer(service);
    expect(grid.state.pages[0]?.[0]?.id).toBe(second);
    expect(grid.at).toBe("0:polar.right");
    expect(cell(grid, 1, "polar.left")).toMatchObject({ text: "40", status: "refused" });
  });
});

describe("labels, notes and half-typed text", () => {
  it("names a row before its first reading and sends the label with it", () => {
    const grid = new GridDriver();
    grid.keys("B", "e", "t", "Enter");
    expect(grid.at).toBe("0:polar.left");
    grid.take("40");
    expect(grid.sent[0]).toMatchObject({ kind: "enter", label: "Bet" });
  });

  it("repeats the label above and goes on with the reading under way", () => {
    const grid = new GridDriver();
    grid.keys("B", "Enter", "4", "0", "+", "7", "*");
    expect(cell(grid, 1, "label").text).toBe("B");
    expect(grid.state.editing?.text).toBe("7");
  });

  it("describes a stored row through the service", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    grid.take("40");
    grid.answer(service);
    grid.keys("B", "Enter");
    expect(grid.sent[1]).toMatchObject({ kind: "describe", label: "B", note: "" });
  });

  it("keeps text half-typed when the mouse leaves the cell, and says so to the service", () => {
    const grid = new GridDriver();
    grid.keys("4");
    grid.send({ type: "focusCell", row: 0, column: column("equatorial.left") });
    expect(cell(grid, 0, "polar.left")).toMatchObject({ text: "4", status: "half-typed" });
    expect(grid.effects.at(-1)).toMatchObject({ type: "keepDraft", typed: "4", now: true });
  });

  it("brings drafts back: a row never stored is there again, its editor open", () => {
    const grid = new GridDriver();
    const draft = {
      sheetId: "s",
      rowId: "lost",
      cell: { dimension: "polar", edge: "right" as const, repeat: 1 },
      typed: "6",
    };
    grid.send({ type: "draftsArrived", drafts: [draft] });
    expect([grid.at, grid.state.editing?.text]).toEqual(["0:polar.right", "6"]);
    grid.keys("0", "Enter");
    expect(grid.sent[0]).toMatchObject({ rowId: "lost", typed: "60" });
  });

  it("Escape gives up one level: the text before is back", () => {
    const grid = new GridDriver();
    grid.take("40");
    grid.keys("-", "9", "Escape");
    expect(cell(grid, 0, "polar.left").text).toBe("40");
    expect(grid.state.editing).toBeNull();
  });
});

describe("striking", () => {
  it("asks for every stored row of the selection, and for the row alone where one is selected", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    for (const typed of ["40", "41", "42"]) {
      grid.take(typed);
      grid.answer(service);
      grid.key("+");
    }
    const total = grid.state.total;
    expect(total).toBeGreaterThan(1);
    grid.send({ type: "focusCell", row: 0, column: grid.state.cursor.column });
    grid.send({ type: "select", what: "all" });
    grid.key("Delete");
    expect(grid.effects.at(-1)).toEqual({ type: "askStrike", rows: { rowId: null, from: 1, to: total } });
    grid.send({ type: "focusCell", row: 0, column: 3 });
    grid.send({ type: "select", what: "rows" });
    grid.key("Delete");
    expect(grid.effects.at(-1)).toMatchObject({
      type: "askStrike",
      rows: { rowId: "fresh-0", from: 1, to: 1 },
    });
  });

  it("asks for a stored row and refuses text in a struck one", () => {
    const grid = new GridDriver();
    const service = new FakeService();
    grid.take("40");
    grid.answer(service);
    grid.key("Delete");
    expect(grid.effects.at(-1)).toMatchObject({ type: "askStrike", rows: { from: 1, to: 1 } });
    grid.send({ type: "strike", rowId: "fresh-0", reason: "broken grain" });
    grid.answer(service);
    grid.key("7");
    expect(grid.state.remark?.text).toMatch(/Row 1 is struck/);
    expect(grid.state.editing).toBeNull();
  });
});
