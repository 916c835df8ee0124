import type { CallName, ParsedInput } from "#core/contract/calls.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import { requireReadableInputs } from "#core/counting/inputs/count-inputs.ts";
import { keysOfKind, objectsIn } from "#core/counting/inputs/field-counts.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import {
  beginFirstField,
  eventsFrom,
  fieldsOfCount,
  findCountingHead,
  lastEvents,
  placeField,
} from "../../store/repositories/count-event-repository.ts";
import {
  findCount,
  listCounts,
  searchCounts,
  updateCount,
} from "../../store/repositories/count-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
import { requireSheet } from "../sheets/sheets.ts";
import { readStage } from "../sheets/stage-position.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransaction,
  inTransactionOnce,
  inTransactionOnceAbout,
  type WriteContext,
} from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";
import { giveCellVolume, movedCellVolumes } from "./cell-volumes.ts";
import { controlsOf, setControl } from "./controls.ts";
import { requireCount, resultsOfCount, sameSample, secondsBetween, secondsCounted } from "./count-lookup.ts";
import { performCountingAct } from "./counting-acts.ts";
import { openCount, requireMethodsCategories, withCautionOf } from "./open-count.ts";

type Calls = Exclude<
  Extract<CallName, `counts.${string}`>,
  "counts.export" | "counts.touchedBy" | "counts.controlsWorkbook"
>;

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

/** Anchors the chain of a count's events in a line of the trail, as `beginNextField` does. */
function headOf({ db }: WriteContext, count: Count): { sequence: number; hash: string } {
  const head = findCountingHead(db, count.id);
  if (!head) throw new Error(`count ${count.id} is missing`);
  return { sequence: head.lastSequence, hash: head.lastHash };
}

/** Runs on to `now`: the stretch so far is added and the clock stands. */
function stopped(count: Count, now: string): Count {
  return { ...count, secondsBefore: secondsCounted(count, now), runningSince: null };
}

function pause(ctx: WriteContext, count: Count): Count {
  requireNotClosed(count);
  if (count.state === "paused") return count;
  const paused: Count = { ...stopped(count, ctx.at), state: "paused" };
  updateCount(ctx.db, paused);
  const { currentField: field, secondsBefore: seconds } = paused;
  ctx.audit({
    act: "counts.pause",
    subject: "count",
    subjectId: count.id,
    detail: { field, seconds, ...headOf(ctx, count) },
  });
  return paused;
}

/** Nothing of it has been counted, not even for a second, as of a count that was opened with others. */
const hasNotBegun = ({ state, lastSequence, secondsBefore }: Count): boolean =>
  state === "paused" && lastSequence === 0 && secondsBefore === 0;

/**
 * Goes on at the same field, or begins at the first, with the calibration and the cautions of now. A count that is still
 * marked as running was left by a crash: its stretch is ended at its last event, so that the time the machine stood still
 * is not counted.
 */
function resume(ctx: WriteContext, count: Count, today: string): Count {
  requireNotClosed(count);
  const { db, at } = ctx;
  if (count.train) requireTrainThere(db, count.train, today, "countId");
  const lastAt = lastEvents(db, count.id, 1)[0]?.at ?? null;
  const left = count.runningSince;
  const seconds = left !== null && lastAt !== null ? secondsBetween(left, lastAt) : 0;
  const begins = hasNotBegun(count);
  const calibrationId = begins ? inForceFor(db, count) : count.calibrationId;
  if (begins) beginFirstField(db, count.id, at);
  const resumed: Count = {
    ...count,
    calibrationId,
    state: "counting",
    secondsBefore: count.secondsBefore + seconds,
    runningSince: at,
    trainCautions: withCautionOf(db, trainOf(db, count), begins ? [] : count.trainCautions, today),
  };
  updateCount(db, resumed);
  const { currentField: field } = count;
  ctx.audit({
    act: "counts.resume",
    subject: "count",
    subjectId: count.id,
    detail: {
      field,
      leftRunning: left !== null,
      trainCautions: resumed.trainCautions,
      ...(begins ? { begins: { calibrationId: { from: count.calibrationId, to: calibrationId } } } : {}),
      ...headOf(ctx, count),
    },
  });
  return resumed;
}

function close(ctx: WriteContext, count: Count, lastFieldCounted: boolean): Count {
  requireNotClosed(count);
  const ended: Count = { ...stopped(count, ctx.at), lastFieldCounted };
  const results = resultsOfCount(ctx.db, ended, ended.secondsBefore);
  const closed: Count = { ...ended, state: "closed", closedAt: ctx.at, closedBy: ctx.by.id, results };
  updateCount(ctx.db, closed);
  const { secondsBefore: seconds } = closed;
  const last = fieldsOfCount(ctx.db, count.id, count.currentField).at(-1);
  const objects = objectsIn(last ?? { counts: {}, presses: {} }, keysOfKind(count.categories, "object"));
  ctx.audit({
    act: "counts.close",
    subject: "count",
    subjectId: count.id,
    detail: {
      lastFieldCounted,
      lastField: { number: count.currentField, objects: String(objects) },
      seconds,
      results,
      ...headOf(ctx, count),
    },
  });
  return closed;
}

function reopen(ctx: WriteContext, count: Count, reason: string): Count {
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
  updateCount(ctx.db, opened);
  ctx.audit({
    act: "counts.reopen",
    subject: "count",
    subjectId: count.id,
    reason,
    detail: { field: count.currentField },
  });
  return opened;
}

function trainOf(db: ReadableDb, { trainId }: Count): OpticalTrain | null {
  return trainId === null ? null : findTrain(db, trainId);
}

function inForceFor(db: ReadableDb, { trainId }: Count): string | null {
  return trainId === null ? null : (calibrationInForce(db, trainId)?.id ?? null);
}

function changeInputs(ctx: WriteContext, count: Count, inputs: Count["inputs"], reason: string): Count {
  requireNotClosed(count);
  withFieldPrefix("inputs", () => requireReadableInputs(inputs));
  const calibrationId = count.calibrationId ?? inForceFor(ctx.db, count);
  const changed: Count = { ...count, inputs, calibrationId };
  updateCount(ctx.db, changed);
  ctx.audit({
    act: "counts.changeInputs",
    subject: "count",
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
  ctx: WriteContext,
  count: Count,
  categories: Count["categories"],
  reason: string,
): Count {
  requirePaused(count);
  requireMethodsCategories(categories, count.categories, "categories");
  const changed: Count = { ...count, categories };
  updateCount(ctx.db, changed);
  ctx.audit({
    act: "counts.changeCategories",
    subject: "count",
    subjectId: count.id,
    reason,
    detail: { categories: { from: count.categories, to: categories } },
  });
  return changed;
}

function linkSheet(ctx: WriteContext, count: Count, sheetId: string | null): Count {
  requireNotClosed(count);
  if (sheetId !== null) requireSheet(ctx.db, sheetId);
  if (count.linkedSheetId === sheetId) return count;
  const linked: Count = { ...count, linkedSheetId: sheetId };
  updateCount(ctx.db, linked);
  ctx.audit({
    act: "counts.linkSheet",
    subject: "count",
    subjectId: count.id,
    detail: { linkedSheetId: { from: count.linkedSheetId, to: sheetId } },
  });
  return linked;
}

type Place = ParsedInput<"counts.placeField">;

function place(ctx: WriteContext, count: Count, { field, position: typed }: Place): Count {
  requireNotClosed(count);
  const position = readStage("position", typed);
  if (field > count.currentField) {
    throw new Refusal("field.unknown", `This count has ${countedNoun(count.currentField, "field")}.`, {
      field: "field",
    });
  }
  const before = fieldsOfCount(ctx.db, count.id, count.currentField)[field - 1]?.position ?? null;
  placeField(ctx.db, count.id, field, position);
  ctx.audit({
    act: "counts.placeField",
    subject: "count",
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
    | "giveCellVolume"
    | "setControl"
    | "placeField";
  /** One change of a count by the person in use, once per request. */
  const changing = <I extends { readonly requestId: string; readonly countId: string }>(
    name: Change,
    change: (ctx: WriteContext, count: Count, input: I) => Count,
  ) => {
    return (input: I): Count =>
      inTransactionOnce(
        deps,
        `counts.${name}`,
        input,
        (ctx) => change(ctx, requireCount(ctx.db, input.countId), input),
        findCount,
      );
  };
  return {
    "counts.list": () => listCounts(deps.db),
    "counts.search": (search) => searchCounts(deps.db, search),
    "counts.get": ({ countId }) => requireCount(deps.db, countId),
    "counts.open": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => openCount(ctx, deps.ids.next(), input.count, deps.clock.today(), input),
        findCount,
      ),
    "counts.openMany": (input, call) =>
      inTransactionOnceAbout<Count[]>(deps, call, input, {
        perform: (ctx) => {
          const today = deps.clock.today();
          return input.samples.map((sample) =>
            openCount(ctx, deps.ids.next(), { ...input.count, sample }, today, "waits"),
          );
        },
        subjectOf: (counts) => counts.map(({ id }) => id).join(" "),
        find: (db, ids) => ids.split(" ").map((id) => requireCount(db, id)),
      }),
    "counts.pause": changing("pause", pause),
    "counts.resume": changing("resume", (ctx, count) => resume(ctx, count, deps.clock.today())),
    "counts.close": changing("close", (ctx, count, input: ParsedInput<"counts.close">) =>
      close(ctx, count, input.lastFieldCounted),
    ),
    "counts.reopen": changing("reopen", (ctx, count, input: ParsedInput<"counts.reopen">) =>
      reopen(ctx, count, input.reason),
    ),
    "counts.press": (input) =>
      inTransaction(deps, (ctx) => performCountingAct(ctx, input.countId, input.act, deps.clock.today())),
    "counts.newField": (input) =>
      inTransaction(deps, (ctx) => performCountingAct(ctx, input.countId, input.act, deps.clock.today())),
    "counts.undo": (input) =>
      inTransaction(deps, (ctx) => performCountingAct(ctx, input.countId, input.act, deps.clock.today())),
    "counts.pressMany": (input) =>
      inTransaction(deps, (ctx) =>
        input.acts.map((one) => performCountingAct(ctx, input.countId, one, deps.clock.today())),
      ),
    "counts.placeField": changing("placeField", (ctx, count, input: Place) => place(ctx, count, input)),
    "counts.changeInputs": changing("changeInputs", (ctx, count, input: ParsedInput<"counts.changeInputs">) =>
      changeInputs(ctx, count, input.inputs, input.reason),
    ),
    "counts.changeCategories": changing(
      "changeCategories",
      (ctx, count, input: ParsedInput<"counts.changeCategories">) =>
        changeCategories(ctx, count, input.categories, input.reason),
    ),
    "counts.linkSheet": changing("linkSheet", (ctx, count, input: ParsedInput<"counts.linkSheet">) =>
      linkSheet(ctx, count, input.sheetId),
    ),
    "counts.giveCellVolume": changing("giveCellVolume", giveCellVolume),
    "counts.setControl": changing("setControl", setControl),
    "counts.controls": (input) => controlsOf(deps.db, input),
    "counts.sameSample": ({ countId }) => sameSample(deps.db, requireCount(deps.db, countId)),
    "counts.movedCellVolumes": ({ countId }) => movedCellVolumes(deps.db, requireCount(deps.db, countId)),
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
