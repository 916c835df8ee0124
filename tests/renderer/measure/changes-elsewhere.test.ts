// @vitest-environment jsdom
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Client } from "#core/contract/calls.ts";
import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { newGrid, recordAt } from "#renderer/grid/grid-state.ts";
import { GridStore } from "#renderer/grid/grid-store.ts";
import { ChangesElsewhere, LOOK_EVERY } from "#renderer/screens/measure/changes-elsewhere.ts";

function row(ordinal: number, size: string): SpecimenRow {
  const measured = { dimension: "length", size: { value: size }, left: "1", right: "2", repeats: [] };
  return {
    id: `row-${ordinal}`,
    sheetId: "s",
    ordinal,
    label: "",
    note: "",
    stage: null,
    struck: null,
    measurements: [measured],
  } as never;
}

const changedOf = (rows: readonly SpecimenRow[], more: Partial<RowsChanged> = {}): RowsChanged => ({
  count: rows.length,
  from: null,
  to: null,
  rows: [...rows],
  gone: [],
  total: 2,
  ...more,
});

/** An open sheet of two rows, and a service that tells what it is given to tell. */
function opened() {
  const columns = columnsFor({ dimensions: [{ key: "length" }], entry: "two-edges", repeats: 1 });
  let ids = 0;
  const store = new GridStore(
    newGrid({ columns, objectives: [], objectiveId: "o1", total: 2, firstRowId: "new" }),
    () => `id-${++ids}`,
  );
  store.dispatch({ type: "pageArrived", from: 1, rows: [row(1, "10"), row(2, "20")], total: 2 });
  const asked: (number | null)[] = [];
  const answers: ReturnType<typeof told>[] = [];
  const effects: string[] = [];
  store.onEffect = (effect) => effects.push(effect.type);
  let meanwhile = (): void => undefined;
  const client = (async (_name: string, { since }: { since: number | null }) => {
    asked.push(since);
    meanwhile();
    const value = answers.shift() ?? { ...told(null), sequence: asked.length };
    return { ok: true, value };
  }) as unknown as Client;
  const elsewhere = new ChangesElsewhere(client, "s", store);
  return { store, asked, answers, effects, elsewhere, during: (act: () => void) => (meanwhile = act) };
}

const told = (changed: RowsChanged | null, objectiveId = "o1", intermediateMagnification = "1") => ({
  ...{ sequence: 9, objectiveId, intermediateMagnification, changed },
});

describe("an open sheet and what others do to it", () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it("shows a re-evaluated size in place of the old one, and says so", async () => {
    const { store, answers, elsewhere, asked } = opened();
    await elsewhere.look();
    answers.push(told(changedOf([row(2, "20.4")])));
    await elsewhere.look();
    expect(asked).toEqual([null, 1]);
    expect(recordAt(store.state(), 1)?.measurements[0]?.size?.value).toBe("20.4");
    expect(store.state().remark?.text).toMatch(/^One row was changed elsewhere/);
    expect(store.state().lastChanged?.rows).toHaveLength(1);
  });

  it("says nothing of what this window did itself", async () => {
    const { store, answers, elsewhere } = opened();
    answers.push(told(changedOf([row(1, "10"), row(2, "20")])));
    const before = store.state();
    await elsewhere.look();
    expect(store.state()).toBe(before);
  });

  it("keeps what is being typed over the cell that was changed", async () => {
    const { store, answers, elsewhere } = opened();
    store.dispatch({ type: "focusCell", row: 1, column: 3 });
    store.dispatch({ type: "typeOver" });
    store.dispatch({ type: "typed", text: "4" });
    answers.push(told(changedOf([row(2, "20.4")])));
    await elsewhere.look();
    expect(store.state().editing?.text).toBe("4");
    expect(recordAt(store.state(), 1)?.measurements[0]?.size?.value).toBe("20.4");
  });

  it("reads many rows again, and takes away those that an undo took", async () => {
    const { store, answers, elsewhere, effects } = opened();
    answers.push(told(changedOf([], { count: 300, total: 300 })));
    await elsewhere.look();
    expect(effects).toContain("load");
    expect(store.state().total).toBe(300);
    const other = opened();
    other.answers.push(told(changedOf([], { count: 1, gone: ["row-2"], total: 1 })));
    await other.elsewhere.look();
    expect(other.store.state().total).toBe(1);
  });

  it("follows the objective chosen in another window", async () => {
    const { store, answers, elsewhere } = opened();
    answers.push(told(null, "o2"));
    await elsewhere.look();
    expect(store.state().objectiveId).toBe("o2");
  });

  it("drops an answer that the window's own entry has overtaken, and asks again from the same line", async () => {
    const { store, answers, elsewhere, asked, during } = opened();
    await elsewhere.look();
    during(() => store.dispatch({ type: "undo" }));
    answers.push(told(changedOf([row(2, "19")])));
    await elsewhere.look();
    expect(recordAt(store.state(), 1)?.measurements[0]?.size?.value).toBe("20");
    during(() => undefined);
    const { requestId } = store.state().outbox[0] ?? { requestId: "" };
    await elsewhere.look();
    expect(asked).toEqual([null, 1]);
    store.dispatch({ type: "refused", requestId, code: "undo.nothing", message: "There is nothing." });
    await elsewhere.look();
    expect(asked).toEqual([null, 1, 1]);
  });

  it("asks every few seconds while it is followed, and from anew after its own act on many rows", async () => {
    const { store, elsewhere, asked } = opened();
    const end = elsewhere.follow();
    await vi.advanceTimersByTimeAsync(LOOK_EVERY);
    expect(asked).toEqual([null, 1]);
    store.dispatch({
      type: "rowsChanged",
      changed: changedOf([], { count: 500, total: 502 }),
      words: "done",
    });
    await vi.advanceTimersByTimeAsync(LOOK_EVERY);
    expect(asked).toEqual([null, 1, null]);
    end();
    await vi.advanceTimersByTimeAsync(3 * LOOK_EVERY);
    expect(asked).toHaveLength(3);
  });
});
