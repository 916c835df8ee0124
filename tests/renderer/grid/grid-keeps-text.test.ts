import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cellText } from "#renderer/grid/cell-text.ts";
import { readingKey } from "#renderer/grid/grid-columns.ts";
import {
  activeCell,
  cellKey,
  freshAt,
  type GridState,
  type Outgoing,
  recordAt,
  rowCount,
} from "#renderer/grid/grid-state.ts";
import { COLUMNS, FakeService, GridDriver } from "./grid-fixture.ts";

const KEYS = [
  ..."0123456789.,+-/*",
  "k",
  "Enter",
  "Escape",
  "Tab",
  "Backspace",
  "Delete",
  "F2",
  "F3",
  "ArrowLeft",
  "ArrowRight",
  "ArrowUp",
  "ArrowDown",
  "Home",
  "End",
  "PageUp",
  "PageDown",
] as const;

type Move =
  | { readonly what: "key"; readonly key: string }
  | { readonly what: "mouse"; readonly row: number; readonly column: number }
  | { readonly what: "answer" | "refuse" | "lose" | "late" | "retry" | "blur" };

const moves = fc.array(
  fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(...KEYS).map((key): Move => ({ what: "key", key })) },
    {
      weight: 6,
      arbitrary: fc.constantFrom("4", "6", "Enter").map((key): Move => ({ what: "key", key })),
    },
    {
      weight: 1,
      arbitrary: fc
        .record({ row: fc.nat(4), column: fc.nat(COLUMNS.length - 1) })
        .map((at): Move => ({ what: "mouse", ...at })),
    },
    {
      weight: 6,
      arbitrary: fc
        .constantFrom("answer", "refuse", "lose", "late", "retry", "blur")
        .map((what) => ({ what }) as Move),
    },
  ),
  { minLength: 30, maxLength: 150, size: "max" },
);

/** Long runs of keys on a machine that has other things to do, ms. */
const PATIENCE = 60_000;

/** Every place where text of a cell can be, the newest first. */
function heldText(state: GridState, key: string): string | undefined {
  const active = activeCell(state);
  if (state.editing && active && cellKey(active.rowId, active.column.key) === key && state.editing.touched)
    return state.editing.text;
  for (let row = 0; row < rowCount(state); row += 1) {
    const parts = { rowId: undefined, record: recordAt(state, row), fresh: freshAt(state, row) };
    const rowId = parts.record?.id ?? parts.fresh?.id;
    const column = COLUMNS.find((one) => rowId !== undefined && cellKey(rowId, one.key) === key);
    if (column && rowId !== undefined) return cellText(state, { ...parts, rowId }, column).text;
  }
  return undefined;
}

/** What the person believes each reading cell holds: the last text typed there and not given up. */
function believe(beliefs: Map<string, string>, before: GridState, grid: GridDriver, key: string): void {
  const active = activeCell(before);
  if (active?.column.kind !== "reading") return;
  const cell = cellKey(active.rowId, active.column.key);
  const given = key === "Escape" || key === "Backspace";
  if (given) beliefs.delete(cell);
  const now = activeCell(grid.state);
  const typed = grid.state.editing?.touched && now && cellKey(now.rowId, now.column.key) === cell;
  if (typed && grid.state.editing && grid.state.editing.text !== "")
    beliefs.set(cell, grid.state.editing.text);
}

function play(grid: GridDriver, service: FakeService, sentBefore: Outgoing[], move: Move): void {
  const underWay = grid.state.outbox.find((item) => item.requestId === grid.state.underWay);
  if (move.what === "mouse") grid.send({ type: "focusCell", row: move.row, column: move.column });
  if (move.what === "blur") grid.send({ type: "blurred" });
  if (move.what === "retry") grid.send({ type: "retry" });
  if (move.what === "late") {
    // An answer that was given up arrives after all, perhaps for the second time.
    const late = sentBefore[Math.floor(sentBefore.length / 2)];
    if (late) grid.send(service.answer(late));
  }
  if (!underWay) return;
  if (move.what === "lose") grid.send({ type: "lost", requestId: underWay.requestId });
  if (move.what === "answer" || move.what === "refuse") {
    service.refuse = () => (move.what === "refuse" ? "Refused here." : null);
    grid.send(service.answer(underWay));
    service.refuse = () => null;
  }
}

/** Cell → reading, of everything the service has. */
function storedReadings(service: FakeService): Record<string, string> {
  const cells = [...service.rows.values()].flatMap((row) =>
    row.measurements.flatMap((measured) =>
      (["left", "right"] as const).map((edge) => [
        cellKey(row.id, readingKey({ dimension: measured.dimension, edge, repeat: 1 })),
        measured[edge],
      ]),
    ),
  );
  return Object.fromEntries(cells.filter(([, typed]) => typed !== null));
}

/** Cell → the last reading sent for it. */
function lastSent(sent: readonly Outgoing[]): Record<string, string> {
  return Object.fromEntries(
    sent.flatMap((item) =>
      item.kind === "enter" ? [[cellKey(item.rowId, readingKey(item.cell)), item.typed]] : [],
    ),
  );
}

describe("no typed text is ever lost", () => {
  it(
    "whatever is pressed and however the service answers",
    () => {
      fc.assert(
        fc.property(moves, (sequence) => {
          const grid = new GridDriver();
          const service = new FakeService();
          const beliefs = new Map<string, string>();
          for (const move of sequence) {
            const before = grid.state;
            if (move.what === "key") {
              grid.key(move.key);
              believe(beliefs, before, grid, move.key);
            } else play(grid, service, [...grid.sent], move);
            for (const [cell, text] of beliefs)
              expect([cell, heldText(grid.state, cell)]).toEqual([cell, text]);
          }
        }),
        { numRuns: 250 },
      );
    },
    PATIENCE,
  );

  it(
    "everything taken reaches the service in the end, the last text of each cell standing",
    () => {
      fc.assert(
        fc.property(moves, (sequence) => {
          const grid = new GridDriver();
          const service = new FakeService();
          for (const move of sequence) {
            if (move.what === "key") grid.key(move.key);
            else if (move.what !== "refuse") play(grid, service, [...grid.sent], move);
          }
          for (let turn = 0; grid.state.outbox.length > 0 && turn < 300; turn += 1) {
            grid.send({ type: "retry" });
            grid.answer(service);
          }
          expect(grid.state.outbox).toEqual([]);
          expect(storedReadings(service)).toEqual(lastSent(grid.sent));
          expect(grid.state.total).toBe(service.rows.size);
        }),
        { numRuns: 150 },
      );
    },
    PATIENCE,
  );
});
