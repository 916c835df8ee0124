import type { CountEvent, CountingAct, CountingEcho, CountState } from "#core/contract/records/count.ts";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";

/** A count of three categories; all of it invented. */
export const CATEGORIES: readonly CountCategory[] = [
  { key: "pinus", name: "Pinus", keyCode: "Numpad1", kind: "object", halves: true },
  { key: "betula", name: "Betula", keyCode: "Numpad2", kind: "object", halves: false },
  { key: "marker", name: "marker spores", keyCode: "NumpadDecimal", kind: "marker", halves: false },
  { key: "alnus", name: "Alnus", keyCode: "KeyA", kind: "object", halves: false },
];

const AT = "2026-01-31T09:00:00.000Z";
const zero = textOfDecimal(decimal(0));

export function emptyCount(): CountState {
  return {
    count: {
      id: "t-1",
      number: "T-0001",
      sample: "Invented",
      note: "",
      countMethodId: "m-1",
      train: null,
      trainId: null,
      calibrationId: null,
      categories: [...CATEGORIES],
      inputs: {},
      batch: "",
      trainCautions: [],
      state: "counting",
      currentField: 1,
      lastSequence: 0,
      secondsBefore: 0,
      runningSince: AT,
      openedAt: AT,
      openedBy: "p-1",
      closedAt: null,
      closedBy: null,
      lastFieldCounted: false,
      linkedSheetId: null,
      results: null,
    },
    fields: [{ ordinal: 1, position: null, begunAt: AT, counts: {}, presses: {} }],
    lastEvents: [],
  };
}

let requests = 0;

export function act(kind: "field" | "undo"): CountingAct;
export function act(kind: "press", category: string, weight?: string): CountingAct;
export function act(kind: CountingAct["kind"], category = "", weight = "1"): CountingAct {
  requests += 1;
  const common = { requestId: `request-${requests}`, waitedMs: 0 };
  if (kind === "press") return { kind, ...common, category, weight, rowId: null };
  return kind === "field" ? { kind, ...common, position: null } : { kind, ...common };
}

/** A host that keeps events as the services do, in memory: the sequence, what an undo strikes, the field in hand. */
export class RememberingHost {
  readonly events: CountEvent[] = [];
  #field = 1;

  perform(one: CountingAct): CountingEcho {
    const done = this.events.find(({ requestId }) => requestId === one.requestId);
    if (done) return this.#echo(done, null);
    const last = this.events.findLast(({ kind, struckBy }) => kind !== "undo" && struckBy === null);
    if (one.kind === "undo" && !last) throw new Error("undo.empty");
    if (one.kind === "field") this.#field += 1;
    const event: CountEvent = {
      sequence: this.events.length + 1,
      kind: one.kind,
      field: one.kind === "undo" ? (last?.field ?? 1) : this.#field,
      category: one.kind === "press" ? one.category : null,
      weight: one.kind === "press" ? textOfDecimal(decimal(one.weight)) : null,
      rowId: null,
      strikes: one.kind === "undo" ? (last?.sequence ?? null) : null,
      struckBy: null,
      at: AT,
      by: "p-1",
      requestId: one.requestId,
      hash: "0".repeat(64),
    };
    this.events.push(event);
    if (one.kind !== "undo" || !last) return this.#echo(event, null);
    this.events[last.sequence - 1] = { ...last, struckBy: event.sequence };
    if (last.kind === "field") this.#field -= 1;
    return this.#echo(event, last);
  }

  /** What a window that opens the count is told. */
  state(lastEvents = 20): CountState {
    const from = emptyCount();
    const fields = Array.from({ length: this.#field }, (_, at) => {
      const thousandths: Record<string, number> = {};
      const presses: Record<string, number> = {};
      for (const { kind, field, category, weight, struckBy } of this.events) {
        if (kind !== "press" || field !== at + 1 || struckBy !== null || category === null) continue;
        thousandths[category] = (thousandths[category] ?? 0) + Number(weight) * 1000;
        presses[category] = (presses[category] ?? 0) + 1;
      }
      const counts = Object.fromEntries(
        Object.entries(thousandths).map(([key, count]) => [key, textOfDecimal(decimal(count).div(1000))]),
      );
      return { ordinal: at + 1, position: null, begunAt: AT, counts, presses };
    });
    return {
      count: { ...from.count, currentField: this.#field, lastSequence: this.events.length },
      fields,
      lastEvents: this.events.slice(-lastEvents).toReversed(),
    };
  }

  #echo(event: CountEvent, struck: CountEvent | null): CountingEcho {
    return {
      event,
      struck,
      currentField: this.#field,
      categoryCount: null,
      total: zero,
      fieldTotal: zero,
    };
  }
}
