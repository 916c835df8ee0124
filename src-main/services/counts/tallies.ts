import type { CallName, ParsedInput } from "#core/contract/calls.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Tally } from "#core/contract/records/tally.ts";
import { keysOfKind, objectsIn } from "#core/counting/inputs/tally-counts.ts";
import { requireReadableInputs } from "#core/counting/inputs/tally-inputs.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import {
  eventsFrom,
  fieldsOfTally,
  findCountingHead,
  lastEvents,
  placeField,
} from "../../store/repositories/tally-event-repository.ts";
import { findTally, listTallies, updateTally } from "../../store/repositories/tally-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { requireSheet } from "../sheets/sheets.ts";
import { type Acting, act, actOnce } from "../write-context/act.ts";
import type { Deps } from "../write-context/deps.ts";
import { under } from "../write-context/typed-input.ts";
import { anchorEvents, performCountingAct } from "./counting-acts.ts";
import { openTally, requireMethodsCategories, withCautionOf } from "./open-tally.ts";
import { requireTally, resultsOfTally, secondsBetween, secondsCounted } from "./tally-ground.ts";

type Calls = Exclude<Extract<CallName, `tallies.${string}`>, "tallies.export" | "tallies.touchedBy">;

const LAST_EVENTS_SHOWN = 20;

function requireNotClosed(tally: Tally): void {
  if (tally.state !== "closed") return;
  throw new Refusal("tally.closed", `Count ${tally.number} is closed.`, {
    hint: "Open it again with a reason first.",
  });
}

function requirePaused(tally: Tally): void {
  requireNotClosed(tally);
  if (tally.state === "paused") return;
  throw new Refusal("tally.running", "The keys are locked while a count runs.", {
    hint: "Pause the count, change the keys, and go on.",
  });
}

function headOf({ db }: Acting, tally: Tally): { sequence: number; hash: string } {
  const head = findCountingHead(db, tally.id);
  if (!head) throw new Error(`count ${tally.id} is missing`);
  return { sequence: head.lastSequence, hash: head.lastHash };
}

/** Runs on to `now`: the stretch so far is added and the clock stands. */
function stopped(tally: Tally, now: string): Tally {
  return { ...tally, secondsBefore: secondsCounted(tally, now), runningSince: null };
}

function pause(acting: Acting, tally: Tally): Tally {
  requireNotClosed(tally);
  if (tally.state === "paused") return tally;
  const paused: Tally = { ...stopped(tally, acting.at), state: "paused" };
  updateTally(acting.db, paused);
  const { currentField: field, secondsBefore: seconds } = paused;
  anchorEvents(acting, tally.id, headOf(acting, tally), "tallies.pause", { field, seconds });
  return paused;
}

/**
 * Goes on at the same field. A count that is still marked as running was left by a crash: its stretch is ended at its
 * last event, so that the time the machine stood still is not counted.
 */
function resume(acting: Acting, tally: Tally, today: string): Tally {
  requireNotClosed(tally);
  const { db, at } = acting;
  const lastAt = lastEvents(db, tally.id, 1)[0]?.at ?? null;
  const left = tally.runningSince;
  const seconds = left !== null && lastAt !== null ? secondsBetween(left, lastAt) : 0;
  const resumed: Tally = {
    ...tally,
    state: "counting",
    secondsBefore: tally.secondsBefore + seconds,
    runningSince: at,
    trainCautions: withCautionOf(db, trainOf(db, tally), tally.trainCautions, today),
  };
  updateTally(db, resumed);
  const { currentField: field } = tally;
  anchorEvents(acting, tally.id, headOf(acting, tally), "tallies.resume", {
    field,
    leftRunning: left !== null,
    trainCautions: resumed.trainCautions,
  });
  return resumed;
}

function close(acting: Acting, tally: Tally, lastFieldCounted: boolean): Tally {
  requireNotClosed(tally);
  const ended: Tally = { ...stopped(tally, acting.at), lastFieldCounted };
  const results = resultsOfTally(acting.db, ended, ended.secondsBefore);
  const closed: Tally = { ...ended, state: "closed", closedAt: acting.at, closedBy: acting.by.id, results };
  updateTally(acting.db, closed);
  const { secondsBefore: seconds } = closed;
  const last = fieldsOfTally(acting.db, tally.id, tally.currentField).at(-1);
  const objects = objectsIn(last ?? { counts: {}, presses: {} }, keysOfKind(tally.categories, "object"));
  anchorEvents(acting, tally.id, headOf(acting, tally), "tallies.close", {
    lastFieldCounted,
    lastField: { number: tally.currentField, objects: String(objects) },
    seconds,
    results,
  });
  return closed;
}

function reopen(acting: Acting, tally: Tally, reason: string): Tally {
  if (tally.state !== "closed") {
    throw new Refusal("tally.open", `Count ${tally.number} is not closed.`, { field: "tallyId" });
  }
  const opened: Tally = {
    ...tally,
    state: "paused",
    closedAt: null,
    closedBy: null,
    lastFieldCounted: false,
    results: null,
  };
  updateTally(acting.db, opened);
  acting.note({ subject: "tally", subjectId: tally.id, reason, detail: { field: tally.currentField } });
  return opened;
}

function trainOf(db: ReadableDb, { trainId }: Tally): OpticalTrain | null {
  return trainId === null ? null : findTrain(db, trainId);
}

function changeInputs(acting: Acting, tally: Tally, inputs: Tally["inputs"], reason: string): Tally {
  requireNotClosed(tally);
  under("inputs", () => requireReadableInputs(inputs));
  const inForce = tally.trainId === null ? null : calibrationInForce(acting.db, tally.trainId);
  const calibrationId = tally.calibrationId ?? inForce?.id ?? null;
  const changed: Tally = { ...tally, inputs, calibrationId };
  updateTally(acting.db, changed);
  acting.note({
    subject: "tally",
    subjectId: tally.id,
    reason,
    detail: {
      inputs: { from: tally.inputs, to: inputs },
      calibrationId: { from: tally.calibrationId, to: calibrationId },
    },
  });
  return changed;
}

function changeCategories(
  acting: Acting,
  tally: Tally,
  categories: Tally["categories"],
  reason: string,
): Tally {
  requirePaused(tally);
  requireMethodsCategories(categories, tally.categories, "categories");
  const changed: Tally = { ...tally, categories };
  updateTally(acting.db, changed);
  acting.note({
    subject: "tally",
    subjectId: tally.id,
    reason,
    detail: { categories: { from: tally.categories, to: categories } },
  });
  return changed;
}

function linkSheet(acting: Acting, tally: Tally, sheetId: string | null): Tally {
  requireNotClosed(tally);
  if (sheetId !== null) requireSheet(acting.db, sheetId);
  if (tally.linkedSheetId === sheetId) return tally;
  const linked: Tally = { ...tally, linkedSheetId: sheetId };
  updateTally(acting.db, linked);
  acting.note({
    subject: "tally",
    subjectId: tally.id,
    detail: { linkedSheetId: { from: tally.linkedSheetId, to: sheetId } },
  });
  return linked;
}

type Place = ParsedInput<"tallies.placeField">;

function place(acting: Acting, tally: Tally, { field, position }: Place): Tally {
  requireNotClosed(tally);
  if (field > tally.currentField) {
    throw new Refusal("field.unknown", `This count has ${countedNoun(tally.currentField, "field")}.`, {
      field: "field",
    });
  }
  const before = fieldsOfTally(acting.db, tally.id, tally.currentField)[field - 1]?.position ?? null;
  placeField(acting.db, tally.id, field, position);
  acting.note({
    subject: "tally",
    subjectId: tally.id,
    detail: { field, position: { from: before, to: position } },
  });
  return tally;
}

export function tallyServices(deps: Deps): HandlersOf<Calls> {
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
  const changing = <I extends { readonly requestId: string; readonly tallyId: string }>(
    name: Change,
    change: (acting: Acting, tally: Tally, input: I) => Tally,
  ) => {
    return (input: I): Tally =>
      actOnce(
        deps,
        `tallies.${name}`,
        input,
        (acting) => change(acting, requireTally(acting.db, input.tallyId), input),
        findTally,
      );
  };
  return {
    "tallies.list": () => listTallies(deps.db),
    "tallies.get": ({ tallyId }) => requireTally(deps.db, tallyId),
    "tallies.open": (input) =>
      actOnce(
        deps,
        "tallies.open",
        input,
        (acting) => openTally(acting, deps.ids.next(), input, deps.clock.today()),
        findTally,
      ),
    "tallies.pause": changing("pause", pause),
    "tallies.resume": changing("resume", (acting, tally) => resume(acting, tally, deps.clock.today())),
    "tallies.close": changing("close", (acting, tally, input: ParsedInput<"tallies.close">) =>
      close(acting, tally, input.lastFieldCounted),
    ),
    "tallies.reopen": changing("reopen", (acting, tally, input: ParsedInput<"tallies.reopen">) =>
      reopen(acting, tally, input.reason),
    ),
    "tallies.press": (input) =>
      act(deps, "tallies.press", (acting) => performCountingAct(acting, input.tallyId, input.act)),
    "tallies.newField": (input) =>
      act(deps, "tallies.newField", (acting) => performCountingAct(acting, input.tallyId, input.act)),
    "tallies.undo": (input) =>
      act(deps, "tallies.undo", (acting) => performCountingAct(acting, input.tallyId, input.act)),
    "tallies.pressMany": (input) =>
      act(deps, "tallies.pressMany", (acting) =>
        input.acts.map((one) => performCountingAct(acting, input.tallyId, one)),
      ),
    "tallies.placeField": changing("placeField", (acting, tally, input: Place) =>
      place(acting, tally, input),
    ),
    "tallies.changeInputs": changing(
      "changeInputs",
      (acting, tally, input: ParsedInput<"tallies.changeInputs">) =>
        changeInputs(acting, tally, input.inputs, input.reason),
    ),
    "tallies.changeCategories": changing(
      "changeCategories",
      (acting, tally, input: ParsedInput<"tallies.changeCategories">) =>
        changeCategories(acting, tally, input.categories, input.reason),
    ),
    "tallies.linkSheet": changing("linkSheet", (acting, tally, input: ParsedInput<"tallies.linkSheet">) =>
      linkSheet(acting, tally, input.sheetId),
    ),
    "tallies.state": ({ tallyId }) => {
      const tally = requireTally(deps.db, tallyId);
      return {
        tally,
        fields: fieldsOfTally(deps.db, tally.id, tally.currentField),
        lastEvents: lastEvents(deps.db, tally.id, LAST_EVENTS_SHOWN),
      };
    },
    "tallies.events": ({ tallyId, from, count }) => ({
      last: requireTally(deps.db, tallyId).lastSequence,
      events: eventsFrom(deps.db, tallyId, from, count),
    }),
    "tallies.results": ({ tallyId }) => {
      const tally = requireTally(deps.db, tallyId);
      if (tally.results) return { frozen: true, results: tally.results };
      const seconds = secondsCounted(tally, deps.clock.now());
      return { frozen: false, results: resultsOfTally(deps.db, tally, seconds) };
    },
  };
}
