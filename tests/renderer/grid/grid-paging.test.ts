import { describe, expect, it } from "vitest";
import { PAGE_ROWS, rowCount, rowIdAt } from "#renderer/grid/grid-state.ts";
import { MOST_PAGES } from "#renderer/grid/paging.ts";
import { GridDriver } from "./grid-fixture.ts";

const row = (ordinal: number) => ({
  id: `r${ordinal}`,
  sheetId: "s",
  ordinal,
  label: `kind ${ordinal % 3}`,
  note: "",
  struck: null,
  stage: null,
  measurements: [],
});
const page = (at: number, total: number) => ({
  type: "pageArrived" as const,
  from: at * PAGE_ROWS + 1,
  rows: Array.from({ length: Math.min(PAGE_ROWS, total - at * PAGE_ROWS) }, (_, slot) =>
    row(at * PAGE_ROWS + slot + 1),
  ),
  total,
});

describe("fetching rows in pages", () => {
  it("asks for what is in sight and a little more, once", () => {
    const grid = new GridDriver(1000);
    grid.send({ type: "viewport", first: 480, last: 510, step: 30 });
    grid.send({ type: "viewport", first: 481, last: 511, step: 30 });
    expect(grid.effects.map((effect) => (effect.type === "load" ? effect.page : -1))).toEqual([4, 5]);
  });

  it("keeps at most so many pages, those about the cursor and the newest", () => {
    const total = 100_000;
    const grid = new GridDriver(total);
    for (let at = 0; at < MOST_PAGES + 20; at += 1) grid.send(page(at, total));
    const held = grid.state.pages.filter((slots) => slots !== undefined);
    expect(held).toHaveLength(MOST_PAGES);
    expect(grid.state.pages[MOST_PAGES + 19]).toBeDefined();
  });

  it("does not let an older page undo what a reply has stored", () => {
    const grid = new GridDriver(2);
    grid.send(page(0, 2));
    grid.send({ ...page(0, 2), rows: [{ ...row(1), label: "older" }] });
    expect(grid.state.pages[0]?.[0]?.label).toBe("kind 1");
  });

  it("shifts what this window began when others have added rows, the cursor with it", () => {
    const grid = new GridDriver(2);
    grid.send(page(0, 2));
    expect(grid.at).toBe("2:polar.left");
    grid.send({ ...page(0, 3), rows: [row(3)] });
    expect([grid.at, rowCount(grid.state), rowIdAt(grid.state, 3)]).toEqual(["3:polar.left", 4, "fresh-0"]);
  });

  it("a begun row that turns out to be stored is not shown twice", () => {
    const grid = new GridDriver(0);
    grid.take("40");
    grid.send({ type: "pageArrived", from: 1, rows: [{ ...row(1), id: "fresh-0" }], total: 1 });
    expect(rowCount(grid.state)).toBe(2);
    expect(grid.state.outbox).toHaveLength(1);
  });

  it("collects the labels it meets for completion", () => {
    const grid = new GridDriver(5);
    grid.send(page(0, 5));
    expect(grid.state.labels).toEqual(["kind 1", "kind 2", "kind 0"]);
  });
});
