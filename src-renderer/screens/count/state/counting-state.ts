import type { Count, CountEvent, CountingAct, CountState } from "#core/contract/records/count.ts";
import { thousandthsOf } from "#core/counting/inputs/counting-unit.ts";

/** One field as shown: whole thousandths of objects (1500 is 1.5) and presses, by category key. Never changed in place. */
export interface LiveField {
  readonly thousandths: Readonly<Record<string, number>>;
  readonly presses: Readonly<Record<string, number>>;
}

/** An act that stands and can be taken back. */
export type UndoEntry =
  | {
      readonly kind: "press";
      readonly field: number;
      readonly category: string;
      readonly thousandths: number;
    }
  | { readonly kind: "field"; readonly field: number };

/** Standing acts, the last on top: adding and taking back cost the same however many lie below. */
export interface UndoStack {
  readonly top: UndoEntry;
  readonly below: UndoStack | null;
}

/** An act on its way to the host, with the moment it was made, ms of this window's clock. */
export interface Outgoing {
  readonly act: CountingAct;
  readonly madeAt: number;
}

/** What the hand has just done, to be shown and heard. `serial` rises, so that the same words are announced again. */
export interface Remark {
  readonly serial: number;
  readonly text: string;
  readonly kind: "note" | "care";
}

/** One count as it stands on the screen: what is stored and, on top, what is on its way. */
export interface CountingState {
  /** The record as last fetched or answered; presses leave it, so that they draw nothing but their own figures. */
  readonly count: Count;
  /** By field number − 1; the last is in hand. */
  readonly fields: readonly LiveField[];
  /** Sums over all fields, thousandths and presses by category. */
  readonly sums: LiveField;
  /** Null when nothing that stands is known here; more may lie on the host. */
  readonly undoStack: UndoStack | null;
  /** Acts taken back that this window does not know: the host's answer says which they were. */
  readonly unknownUndos: number;
  /** In order; those under way first. */
  readonly outbox: readonly Outgoing[];
  /** How many of the outbox are under way together. */
  readonly underWay: number;
  /** After a refusal acts go one by one, to find the one that is refused. */
  readonly singly: boolean;
  readonly hostLost: boolean;
  /** Sequence number of the last event that the host has acknowledged. */
  readonly storedUpTo: number;
  readonly lastPress: { readonly category: string; readonly thousandths: number } | null;
  readonly remark: Remark | null;
}

export const EMPTY_FIELD: LiveField = { thousandths: {}, presses: {} };

function inThousandths(counts: Readonly<Record<string, string>>): Record<string, number> {
  return Object.fromEntries(Object.entries(counts).map(([key, text]) => [key, thousandthsOf(text)]));
}

/** A field with objects of one category more, or fewer when they are taken back. */
export function addToField(
  { thousandths, presses }: LiveField,
  category: string,
  by: { readonly thousandths: number; readonly presses: number },
): LiveField {
  return {
    thousandths: { ...thousandths, [category]: (thousandths[category] ?? 0) + by.thousandths },
    presses: { ...presses, [category]: (presses[category] ?? 0) + by.presses },
  };
}

function sumsOf(fields: readonly LiveField[]): LiveField {
  let sums = EMPTY_FIELD;
  for (const field of fields) {
    for (const [category, thousandths] of Object.entries(field.thousandths)) {
      sums = addToField(sums, category, { thousandths, presses: field.presses[category] ?? 0 });
    }
  }
  return sums;
}

function undoEntryOf(event: CountEvent): UndoEntry | null {
  if (event.struckBy !== null || event.kind === "undo") return null;
  if (event.kind === "field") return { kind: "field", field: event.field };
  if (event.category === null || event.weight === null) return null;
  return {
    kind: "press",
    field: event.field,
    category: event.category,
    thousandths: thousandthsOf(event.weight),
  };
}

/** From what the host keeps, with nothing on its way. */
export function openedCount({ count, fields, lastEvents }: CountState): CountingState {
  const live = fields.map(({ counts, presses }) => ({ thousandths: inThousandths(counts), presses }));
  let undoStack: UndoStack | null = null;
  for (const event of lastEvents.toReversed()) {
    const act = undoEntryOf(event);
    if (act) undoStack = { top: act, below: undoStack };
  }
  return {
    count,
    fields: live,
    sums: sumsOf(live),
    undoStack,
    unknownUndos: 0,
    outbox: [],
    underWay: 0,
    singly: false,
    hostLost: false,
    storedUpTo: count.lastSequence,
    lastPress: null,
    remark: null,
  };
}

/** Objects in a field or over all, of the categories that are part of the total; exact to three decimals. */
export function totalIn({ thousandths }: LiveField, { categories }: Pick<Count, "categories">): number {
  return (
    categories.reduce((sum, { key, kind }) => sum + (kind === "object" ? (thousandths[key] ?? 0) : 0), 0) /
    1000
  );
}
