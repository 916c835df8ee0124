import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import type { GridAction } from "#renderer/grid/grid-action.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import type { GridEffect } from "#renderer/grid/grid-effect.ts";
import { answerKey } from "#renderer/grid/grid-keys.ts";
import { reduceGrid } from "#renderer/grid/grid-reducer.ts";
import { type GridState, newGrid, type Outgoing } from "#renderer/grid/grid-state.ts";
import type { KeyFacts } from "#renderer/grid/key-facts.ts";

/** Two dimensions, three objectives; invented inputs. */
export const COLUMNS = columnsFor({
  dimensions: [{ key: "polar" }, { key: "equatorial" }],
  entry: "two-edges",
  repeats: 1,
});
export const OBJECTIVES = [
  { id: "o1", position: 1 },
  { id: "o2", position: 2 },
  { id: "o12", position: 12 },
];

export function column(key: string): number {
  return COLUMNS.findIndex((one) => one.key === key);
}

export function press(key: string, more: Partial<KeyFacts> = {}): KeyFacts {
  return {
    key,
    code: "",
    ctrl: false,
    alt: false,
    shift: false,
    meta: false,
    numLock: true,
    composing: false,
    ...more,
  };
}

/** A window with its grid: presses keys as a browser would, editor included, and collects what is to be done. */
export class GridDriver {
  state: GridState;
  effects: GridEffect[] = [];
  #ids = 0;

  constructor(total = 0) {
    this.state = newGrid({
      columns: COLUMNS,
      objectives: OBJECTIVES,
      objectiveId: "o1",
      total,
      firstRowId: "fresh-0",
    });
  }

  send(action: GridAction): void {
    const { state, effects } = reduceGrid(this.state, action, () => {
      this.#ids += 1;
      return `id-${this.#ids}-000000`;
    });
    this.state = state;
    this.effects.push(...effects);
  }

  /** One key; a character that is let through lands in the editor as it would natively. */
  key(key: string, more: Partial<KeyFacts> = {}): void {
    const answer = answerKey(this.state, press(key, more));
    if (answer?.action) this.send(answer.action);
    const lands = answer?.insert ?? (answer?.native && key.length === 1 ? key : "");
    if (lands === "" || !this.state.editing) return;
    const { text, touched } = this.state.editing;
    // Text that was opened to be typed over is selected whole.
    const before = this.state.editing.mode === "replace" && !touched ? "" : text;
    this.send({ type: "typed", text: before + lands });
  }

  keys(...keys: readonly string[]): void {
    for (const key of keys) this.key(key);
  }

  /** Types a reading and takes it. */
  take(text: string): void {
    this.keys(...text, "Enter");
  }

  get sent(): readonly Outgoing[] {
    return this.effects.flatMap((effect) => (effect.type === "send" ? [effect.item] : []));
  }

  get at(): string {
    return `${this.state.cursor.row}:${COLUMNS[this.state.cursor.column]?.key}`;
  }

  /** Answers the request under way as the service would, storing what was sent. */
  answer(service: FakeService): void {
    const item = this.state.outbox.find((one) => one.requestId === this.state.underWay);
    if (item) this.send(service.answer(item));
  }
}

const AT = "2026-11-25T09:00:00.000Z";

/** Rows as a service keeps them: a row is made by its first reading and gets the next ordinal. */
export class FakeService {
  readonly rows = new Map<string, SpecimenRow>();
  readonly #answered = new Map<string, GridAction>();
  refuse: (item: Outgoing) => string | null = () => null;

  answer(item: Outgoing): GridAction {
    const before = this.#answered.get(item.requestId);
    if (before) return before;
    const why = this.refuse(item);
    const answer: GridAction =
      why === null
        ? this.#store(item)
        : { type: "refused", requestId: item.requestId, code: "refused.here", message: why };
    this.#answered.set(item.requestId, answer);
    return answer;
  }

  #store(item: Outgoing): GridAction {
    const { requestId } = item;
    if (item.kind === "objective") {
      return { type: "objectiveStored", requestId, sheet: { objectiveId: item.objectiveId } as never };
    }
    if (item.kind === "undo" || item.kind === "redo") {
      return { type: "refused", requestId, code: "undo.nothing", message: "There is nothing to take back." };
    }
    const row = this.rows.get(item.rowId) ?? (item.kind === "enter" ? this.#newRow(item) : undefined);
    if (!row) return { type: "refused", requestId, code: "row.unknown", message: "There is no such row." };
    const changed = change(row, item);
    this.rows.set(row.id, changed);
    return { type: "rowStored", requestId, row: changed };
  }

  #newRow(item: Extract<Outgoing, { kind: "enter" }>): SpecimenRow {
    return {
      id: item.rowId,
      sheetId: "s",
      ordinal: this.rows.size + 1,
      label: item.label,
      note: "",
      stage: null,
      struck: null,
      measurements: [],
    };
  }
}

function change(row: SpecimenRow, item: Extract<Outgoing, { rowId: string }>): SpecimenRow {
  if (item.kind === "describe") {
    return { ...row, label: item.label, note: item.note, stage: item.stage ?? row.stage };
  }
  if (item.kind === "strike") return { ...row, struck: { at: AT, by: "p", reason: item.reason } };
  const { dimension, edge } = item.cell;
  const found = row.measurements.find((one) => one.dimension === dimension);
  const before = found ?? {
    dimension,
    entry: "two-edges" as const,
    left: null,
    right: null,
    direct: null,
    repeats: [],
    trainId: "t",
    calibrationId: null,
    divisions: null,
    size: null,
    missing: null,
    flags: [],
    enteredAt: AT,
    enteredBy: "p",
  };
  const after = { ...before, [edge]: item.typed };
  const both = after.left !== null && after.right !== null;
  const measured = { ...after, divisions: both ? ("1" as never) : null };
  return {
    ...row,
    measurements: [...row.measurements.filter((one) => one.dimension !== dimension), measured],
  };
}
