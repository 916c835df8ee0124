import type { CallName, ParsedInput } from "#core/contract/calls.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import { STORED, storedAct } from "#core/contract/stored-names.ts";
import { requireReadableInputs } from "#core/counting/inputs/count-inputs.ts";
import { keysOfKind, objectsIn } from "#core/counting/inputs/field-counts.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import {
  eventsFrom,
  fieldsOfCount,
  findCountingHead,
  lastEvents,
  placeField,
} from "../../store/repositories/count-event-repository.ts";
import { findCount, listCounts, updateCount } from "../../store/repositories/count-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { requireSheet } from "../sheets/sheets.ts";
import { type Acting, act, actOnce } from "../write-context/act.ts";
import type { Deps } from "../write-context/deps.ts";
import { under } from "../write-context/typed-input.ts";
import { requireCount, resultsOfCount, secondsBetween, secondsCounted } from "./count-lookup.ts";
import { anchorEvents, performCountingAct } from "./counting-acts.ts";
import { openCount, requireMethodsCategories, withCautionOf } from "./open-count.ts";

type Calls = Exclude<Extract<CallName, `counts.${string}`>, "counts.export" | "counts.touchedBy">;

const LAST_EVENTS_SHOWN = 20;

function requireNotClosed(count: Count): void {
  if (count.state !== "closed") return;
  throw new Refusal("count.closed", `Count ${count.number} is closed.`, {
    hint: "Open it again with a reason first.",
  });
}

function requirePaused(count: Count): void {
  requireNotClosed(count);
  if (count.state === "paused") return;
  throw new Refusal("count.running", "The keys are locked while a count runs.", {
    hint: "Pause the count, change the keys, and go on.",
  });
}

function headOf({ db }: Acting, count: Count): { sequence: number; hash: string } {
  const head = findCountingHead(db, count.id);
  if (!head) throw new Error(`count ${count.id} is missing`);
  return { sequence: head.lastSequence, hash: head.lastHash };
}

/** Runs on to `now`: the stretch so far is added and the clock stands. */
function stopped(count: Count, now: string): Count {
  return { ...count, secondsBefore: secondsCounted(count, now), runningSince: null };
}

function pause(acting: Acting, count: Count): Count {
  requireNotClosed(count);
  if (count.state === "paused") return count;
  const paused: Count = { ...stopped(count, acting.at), state: "paused" };
  updateCount(acting.db, paused);
  const { currentField: field, secondsBefore: seconds } = paused;
  anchorEvents(acting, count.id, headOf(acting, count), storedAct("counts.pause"), { field, seconds });
  return paused;
}

/**
 * Goes on at the same field. A count that is still marked as running was left by a crash: its stretch is ended at its
 * last event, so that the time the machine stood still is not counted.
 */
function resume(acting: Acting, count: Count, today: string): Count {
  requireNotClosed(count);
  const { db, at } = acting;
  const lastAt = lastEvents(db, count.id, 1)[0]?.at ?? null;
  const left = count.runningSince;
  const seconds = left !== null && lastAt !== null ? secondsBetween(left, lastAt) : 0;
  const resumed: Count = {
    ...count,
    state: "counting",
    secondsBefore: count.secondsBefore + seconds,
    runningSince: at,
    trainCautions: withCautionOf(db, trainOf(db, count), count.trainCautions, today),
  };
  updateCount(db, resumed);
  const { currentField: field } = count;
  anchorEvents(acting, count.id, headOf(acting, count), storedAct("counts.resume"), {
    field,
    leftRunning: left !== null,
    trainCautions: resumed.trainCautions,
  });
  return resumed;
}

function close(acting: Acting, count: Count, lastFieldCounted: boolean): Count {
  requireNotClosed(count);
  const ended: Count = { ...stopped(count, acting.at), lastFieldCounted };
  const results = resultsOfCount(acting.db, ended, ended.secondsBefore);
  const closed: Count = { ...ended, state: "closed", closedAt: acting.at, closedBy: acting.by.id, results };
  updateCount(acting.db, closed);
  const { secondsBefore: seconds } = closed;
  const last = fieldsOfCount(acting.db, count.id, count.currentField).at(-1);
  const objects = objectsIn(last ?? { counts: {}, presses: {} }, keysOfKind(count.categories, "object"));
  anchorEvents(acting, count.id, headOf(acting, count), storedAct("counts.close"), {
    lastFieldCounted,
    lastField: { number: count.currentField, objects: String(objects) },
    seconds,
    results,
  });
  return closed;
}

function reopen(acting: Acting, count: Count, reason: string): Count {
  if (count.state !== "closed") {
    throw new Refusal("count.open", `Count ${count.number} is not closed.`, { field: "countId" });
  }
  const opened: Count = {
    ...count,
    state: "paused",
    closedAt: null,
    closedBy: null,
    lastFieldCounted: false,
    results: null,
  };
  updateCount(acting.db, opened);
  acting.note({ subject: STORED.count, subjectId: count.id, reason, detail: { field: count.currentField } });
  return opened;
}

function trainOf(db: ReadableDb, { trainId }: Count): OpticalTrain | null {
  return trainId === null ? null : findTrain(db, trainId);
}

function changeInputs(acting: Acting, count: Count, inputs: Count["inputs"], reason: string): Count {
  requireNotClosed(count);
  under("inputs", () => requireReadableInputs(inputs));
  const inForce = count.trainId === null ? null : calibrationInForce(acting.db, count.trainId);
  const calibrationId = count.calibrationId ?? inForce?.id ?? null;
  const changed: Count = { ...count, inputs, calibrationId };
  updateCount(acting.db, changed);
  acting.note({
    subject: STORED.count,
    subjectId: count.id,
    reason,
    detail: {
      inputs: { from: count.inputs, to: inputs },
      calibrationId: { from: count.calibrationId, to: calibrationId },
    },
  });
  return changed;
}

function changeCategories(
  acting: Acting,
  count: Count,
  categories: Count["categories"],
  reason: string,
): Count {
  requirePaused(count);
  requireMethodsCategories(categories, count.categories, "categories");
  const changed: Count = { ...count, categories };
  updateCount(acting.db, changed);
  acting.note({
    subject: STORED.count,
    subjectId: count.id,
    reason,
    detail: { categories: { from: count.categories, to: categories } },
  });
  return changed;
}

function linkSheet(acting: Acting, count: Count, sheetId: string | null): Count {
  requireNotClosed(count);
  if (sheetId !== null) requireSheet(acting.db, sheetId);
  if (count.linkedSheetId === sheetId) return count;
  const linked: Count = { ...count, linkedSheetId: sheetId };
  updateCount(acting.db, linked);
  acting.note({
    subject: STORED.count,
    subjectId: count.id,
    detail: { linkedSheetId: { from: count.linkedSheetId, to: sheetId } },
  });
  return linked;
}

type Place = ParsedInput<"counts.placeField">;

function place(acting: Acting, count: Count, { field, position }: Place): Count {
  requireNotClosed(count);
  if (field > count.currentField) {
    throw new Refusal("field.unknown", `This count has ${countedNoun(count.currentField, "field")}.`, {
      field: "field",
    });
  }
  const before = fieldsOfCount(acting.db, count.id, count.currentField)[field - 1]?.position ?? null;
  placeField(acting.db, count.id, field, position);
  acting.note({
    subject: STORED.count,
    subjectId: count.id,
    detail: { field, position: { from: before, to: position } },
  });
  return count;
}

export function countServices(deps: Deps): HandlersOf<Calls> {
  type Change =
    | "pause"
    | "resume"
    | "close"
    | "reopen"
    | "changeInputs"
    | "changeCategories"
    | "linkSheet"
    | "placeField";
  /** One change of a count by the person in use, once per request. */
  const changing = <I extends { readonly requestId: string; readonly countId: string }>(
    name: Change,
    change: (acting: Acting, count: Count, input: I) => Count,
  ) => {
    return (input: I): Count =>
      actOnce(
        deps,
        `counts.${name}`,
        input,
        (acting) => change(acting, requireCount(acting.db, input.countId), input),
        findCount,
      );
  };
  return {
    "counts.list": () => listCounts(deps.db),
    "counts.get": ({ countId }) => requireCount(deps.db, countId),
    "counts.open": (input) =>
      actOnce(
        deps,
        "counts.open",
        input,
        (acting) => openCount(acting, deps.ids.next(), input, deps.clock.today()),
        findCount,
      ),
    "counts.pause": changing("pause", pause),
    "counts.resume": changing("resume", (acting, count) => resume(acting, count, deps.clock.today())),
    "counts.close": changing("close", (acting, count, input: ParsedInput<"counts.close">) =>
      close(acting, count, input.lastFieldCounted),
    ),
    "counts.reopen": changing("reopen", (acting, count, input: ParsedInput<"counts.reopen">) =>
      reopen(acting, count, input.reason),
    ),
    "counts.press": (input) =>
      act(deps, "counts.press", (acting) => performCountingAct(acting, input.countId, input.act)),
    "counts.newField": (input) =>
      act(deps, "counts.newField", (acting) => performCountingAct(acting, input.countId, input.act)),
    "counts.undo": (input) =>
      act(deps, "counts.undo", (acting) => performCountingAct(acting, input.countId, input.act)),
    "counts.pressMany": (input) =>
      act(deps, "counts.pressMany", (acting) =>
        input.acts.map((one) => performCountingAct(acting, input.countId, one)),
      ),
    "counts.placeField": changing("placeField", (acting, count, input: Place) => place(acting, count, input)),
    "counts.changeInputs": changing(
      "changeInputs",
      (acting, count, input: ParsedInput<"counts.changeInputs">) =>
        changeInputs(acting, count, input.inputs, input.reason),
    ),
    "counts.changeCategories": changing(
      "changeCategories",
      (acting, count, input: ParsedInput<"counts.changeCategories">) =>
        changeCategories(acting, count, input.categories, input.reason),
    ),
    "counts.linkSheet": changing("linkSheet", (acting, count, input: ParsedInput<"counts.linkSheet">) =>
      linkSheet(acting, count, input.sheetId),
    ),
    "counts.state": ({ countId }) => {
      const count = requireCount(deps.db, countId);
      return {
        count,
        fields: fieldsOfCount(deps.db, count.id, count.currentField),
        lastEvents: lastEvents(deps.db, count.id, LAST_EVENTS_SHOWN),
      };
    },
    "counts.events": ({ countId, from, count }) => ({
      last: requireCount(deps.db, countId).lastSequence,
      events: eventsFrom(deps.db, countId, from, count),
    }),
    "counts.results": ({ countId }) => {
      const count = requireCount(deps.db, countId);
      if (count.results) return { frozen: true, results: count.results };
      const seconds = secondsCounted(count, deps.clock.now());
      return { frozen: false, results: resultsOfCount(deps.db, count, seconds) };
    },
  };
}
