import type { CountEvent, CountingAct, CountingEcho } from "#core/contract/records/count.ts";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { readObjects, textOfThousandths, thousandthsOf } from "#core/counting/inputs/counting-unit.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  addToCounts,
  appendEvent,
  beginField,
  type CountingHead,
  categorySums,
  fieldSums,
  findCountingHead,
  findEvent,
  findEventByRequest,
  hashOfEvent,
  lastUndoableEvent,
  placeField,
  strikeEvent,
} from "../../store/repositories/count-event-repository.ts";
import { findRow } from "../../store/repositories/row-repository.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
import { readStage } from "../sheets/stage-position.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";

/** @throws Refusal `count.unknown` */
function requireHead(db: ReadableDb, countId: string): CountingHead {
  const head = findCountingHead(db, countId);
  if (head) return head;
  throw new Refusal("count.unknown", "That count is not on this bench.", {
    field: "countId",
    hint: "Open the list of counts and choose one.",
  });
}

function requireCounting({ state }: CountingHead): void {
  if (state === "counting") return;
  if (state === "closed") {
    throw new Refusal("count.closed", "This count is closed: the press was not taken.", {
      hint: "Open it again with a reason, or open a new count.",
    });
  }
  throw new Refusal("count.paused", "This count is paused: the press was not taken.", {
    hint: "Resume it; it goes on at the same field.",
  });
}

function categoryOf({ categories }: CountingHead, key: string): CountCategory {
  const found = categories.find((category) => category.key === key);
  if (found) return found;
  throw new Refusal("category.unknown", "This count has no such category.", {
    field: "act.category",
    hint: `It has ${categories.map((category) => category.name).join(", ")}.`,
  });
}

function unreadable({ name }: CountCategory, reason: string): Refusal {
  return new Refusal("weight.unreadable", `The count of “${name}” ${reason}.`, {
    field: "act.weight",
    hint: "Press the key alone for one object, or type a number before it for a colony or a length.",
  });
}

/** Objects of a press as thousandths. @throws Refusal `weight.unreadable` */
function pressedObjects(typed: string, category: CountCategory): number {
  try {
    const thousandths = readObjects("weight", typed, category);
    if (thousandths === 0) throw unreadable(category, "must be greater than zero");
    return thousandths;
  } catch (error) {
    if (error instanceof InputError) throw unreadable(category, error.reason);
    throw error;
  }
}

function requireLinkedRow(db: ReadableDb, head: CountingHead, rowId: string): void {
  if (head.linkedSheetId !== null && findRow(db, rowId)?.sheetId === head.linkedSheetId) return;
  throw new Refusal("row.unknown", "That row is not on the sheet linked to this count.", {
    field: "act.rowId",
  });
}

function totalOf(sums: ReadonlyMap<string, number>, categories: readonly CountCategory[]): number {
  return categories.reduce((sum, { key, kind }) => sum + (kind === "object" ? (sums.get(key) ?? 0) : 0), 0);
}

function echoOf(
  db: ReadableDb,
  head: CountingHead,
  event: CountEvent,
  struck: CountEvent | null,
  currentField: number,
): CountingEcho {
  const sums = categorySums(db, head.id);
  const category = event.category ?? struck?.category ?? null;
  return {
    event,
    struck,
    currentField,
    categoryCount: category === null ? null : textOfThousandths(sums.get(category) ?? 0),
    total: textOfThousandths(totalOf(sums, head.categories)),
    fieldTotal: textOfThousandths(totalOf(fieldSums(db, head.id, currentField), head.categories)),
  };
}

/** True when a repeated request asks for what it asked for the first time. */
function isSame(act: CountingAct, event: CountEvent): boolean {
  if (act.kind !== event.kind) return false;
  if (act.kind !== "press") return true;
  const weight = readDecimal("weight", act.weight).value;
  return act.category === event.category && weight.equals(event.weight ?? "0") && act.rowId === event.rowId;
}

function repeated(db: ReadableDb, countId: string, act: CountingAct): CountingEcho | null {
  const done = findEventByRequest(db, act.requestId);
  if (!done) return null;
  if (done.countId !== countId || !isSame(act, done.event)) {
    throw new Refusal("input.invalid", "was already used for another act: make a new one for each act", {
      field: "requestId",
    });
  }
  const head = requireHead(db, countId);
  const { strikes } = done.event;
  const struck = strikes === null ? null : findEvent(db, countId, strikes);
  return echoOf(db, head, done.event, struck, head.currentField);
}

type Draft = Pick<CountEvent, "kind" | "field" | "category" | "rowId" | "strikes"> & {
  readonly thousandths: number | null;
  readonly currentField: number;
};

function write(ctx: WriteContext, head: CountingHead, act: CountingAct, draft: Draft): CountEvent {
  const { thousandths, currentField, ...columns } = draft;
  const plain = {
    ...columns,
    sequence: head.lastSequence + 1,
    weight: thousandths === null ? null : textOfThousandths(thousandths),
    at: new Date(Date.parse(ctx.at) - act.waitedMs).toISOString(),
    by: ctx.by.id,
    requestId: act.requestId,
  };
  const event = { ...plain, struckBy: null, hash: hashOfEvent(plain, head.lastHash) };
  appendEvent(ctx.db, head.id, event, thousandths, currentField);
  return event;
}

type Of<K extends CountingAct["kind"]> = Extract<CountingAct, { kind: K }>;

function press(ctx: WriteContext, head: CountingHead, act: Of<"press">): CountingEcho {
  const { db } = ctx;
  const category = categoryOf(head, act.category);
  const thousandths = pressedObjects(act.weight, category);
  if (act.rowId !== null) requireLinkedRow(db, head, act.rowId);
  const field = head.currentField;
  const event = write(ctx, head, act, {
    kind: "press",
    field,
    category: category.key,
    rowId: act.rowId,
    strikes: null,
    thousandths,
    currentField: field,
  });
  addToCounts(db, head.id, { field, category: category.key }, thousandths, 1);
  return echoOf(db, head, event, null, field);
}

/**
 * The line of a new field anchors the chain of the count's events in the audit trail: it names the last event and its
 * hash, and with it, link by link, every event before. Written at each new field, pause, resume and close rather than at
 * each press: with a line for every press the trail could not be read for presses, the file grew by three quarters more,
 * and the slowest hundredth of presses took 1.2 to 1.9 times as long (measured over 10,000 presses). Until the next
 * anchor a press is covered by the chain of its count and by the head kept with the count.
 */
function beginNextField(
  ctx: WriteContext,
  head: CountingHead,
  act: Of<"field">,
  today: string,
): CountingEcho {
  const { objectiveId, eyepieceId } = head;
  if (objectiveId !== null && eyepieceId !== null) {
    requireTrainThere(ctx.db, { objectiveId, eyepieceId }, today, "act");
  }
  const field = head.currentField + 1;
  const position = readStage("position", act.position);
  const event = write(ctx, head, act, {
    kind: "field",
    field,
    category: null,
    rowId: null,
    strikes: null,
    thousandths: null,
    currentField: field,
  });
  beginField(ctx.db, head.id, field, event.at);
  if (position) placeField(ctx.db, head.id, field, position);
  const { sequence, hash } = event;
  ctx.audit({
    act: "counts.newField",
    subject: "count",
    subjectId: head.id,
    detail: { field, position, sequence, hash },
  });
  return echoOf(ctx.db, head, event, null, field);
}

function undo(ctx: WriteContext, head: CountingHead, act: Of<"undo">): CountingEcho {
  const { db } = ctx;
  const last = lastUndoableEvent(db, head.id);
  if (!last) {
    throw new Refusal("undo.empty", "There is nothing left to take back: no press of this count stands.", {
      field: "act",
    });
  }
  const currentField = last.kind === "field" ? last.field - 1 : last.field;
  const event = write(ctx, head, act, {
    kind: "undo",
    field: last.field,
    category: null,
    rowId: null,
    strikes: last.sequence,
    thousandths: null,
    currentField,
  });
  strikeEvent(db, head.id, last.sequence, event.sequence);
  if (last.kind === "press" && last.category !== null && last.weight !== null) {
    const { field, category } = last;
    addToCounts(db, head.id, { field, category }, -thousandthsOf(last.weight), -1);
  }
  return echoOf(db, head, event, { ...last, struckBy: event.sequence }, currentField);
}

/**
 * One act of the counting hand, in the transaction of `ctx`: the event with its hash, the running sums and the head of
 * the count together. A repeated request is answered from what it did. Costs the same whatever was counted before.
 * @throws Refusal `count.unknown`, `count.paused`, `count.closed`, `category.unknown`, `weight.unreadable`,
 * `row.unknown`, `undo.empty`, `item.out-of-service` for a field beyond the day on which objective or eyepiece left
 */
export function performCountingAct(
  ctx: WriteContext,
  countId: string,
  act: CountingAct,
  today: string,
): CountingEcho {
  const before = repeated(ctx.db, countId, act);
  if (before) return before;
  const head = requireHead(ctx.db, countId);
  requireCounting(head);
  switch (act.kind) {
    case "press":
      return press(ctx, head, act);
    case "field":
      return beginNextField(ctx, head, act, today);
    case "undo":
      return undo(ctx, head, act);
  }
}
