import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { fieldsOfCount, firstHashOf } from "../../store/repositories/count-event-repository.ts";
import { listRecounts } from "../../store/repositories/recount-repository.ts";
import type { CountUnderCheck } from "./count-under-check.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";

/** What an event says of keys, inputs, calibration, linked sheet and frozen results of its count. */
function changeOfState(event: ToldEvent): Readonly<Record<string, unknown>> {
  switch (event.act) {
    case "counts.open": {
      const { categories, inputs, calibrationId } = event.detail;
      return { categories, inputs, calibrationId };
    }
    case "counts.resume":
      return event.detail.begins ? { calibrationId: event.detail.begins.calibrationId.to } : {};
    case "counts.changeInputs": {
      const { inputs, calibrationId } = event.detail;
      return { inputs: inputs.to, calibrationId: calibrationId.to };
    }
    case "counts.changeCategories":
      return { categories: event.detail.categories.to };
    case "counts.linkSheet":
      return { linkedSheetId: event.detail.linkedSheetId.to };
    case "counts.close":
      return { results: event.detail.results };
    case "counts.reopen":
      return { results: null };
    default:
      return {};
  }
}

/** Where a field lies, by an event that says so. */
function placeFrom({ act, detail }: ToldEvent): readonly [field: number, position: unknown] | null {
  if (act === "counts.open") return [1, detail.position];
  if (act === "counts.newField") return [detail.field, detail.position];
  return act === "counts.placeField" ? [detail.field, detail.position.to] : null;
}

/**
 * Keys, inputs, calibration, positions and frozen results as the trail last told them, and every anchor against the event
 * it names.
 */
export function checkCountTrail({ db, count, events, where, differences }: CountUnderCheck): void {
  const fromTrail = eventsOf(db, count.id);
  const state = Object.assign({ linkedSheetId: null, results: null }, ...fromTrail.map(changeOfState));
  const positions = new Map(fromTrail.map(placeFrom).filter((place) => place !== null));
  for (const { sequence: line, detail } of fromTrail) {
    if (!("hash" in detail)) continue;
    const hash = events[detail.sequence - 1]?.hash ?? firstHashOf(count.id);
    differences.compare(
      `${where}, event ${detail.sequence}, as told by trail line ${line}`,
      hash,
      detail.hash,
    );
  }
  const { categories, inputs, calibrationId, linkedSheetId, results } = count;
  const stored = { categories, inputs, calibrationId, linkedSheetId, results };
  differences.compare(`${where}, as told by the trail`, stored, state);
  for (const { ordinal, position } of fieldsOfCount(db, count.id, count.currentField)) {
    const expected = positions.get(ordinal) ?? null;
    differences.compare(`${where}, field ${ordinal}, position, as told by the trail`, position, expected);
  }
}

/** Every recount against the trail: the fields drawn, the counts last entered and the report. */
export function verifyRecounts(db: ReadableDb, differences: Differences): void {
  checkRecord("recounts", differences, () => {
    for (const recount of listRecounts(db, null)) {
      const counts: Record<string, unknown> = {};
      let fields: unknown;
      let report: unknown = null;
      for (const { act, detail } of eventsOf(db, recount.id)) {
        if (act === "recounts.enter") counts[detail.field] = detail.to;
        else if (act === "recounts.finish") report = detail.report;
        else if (act === "recounts.planFields" || act === "recounts.planSlides") fields = detail.fields;
      }
      const entered = Object.fromEntries(recount.entries.map((entry) => [entry.field, entry.counts]));
      differences.compare(
        `recount ${recount.id} of count ${recount.countNumber}, as told by the trail`,
        { fields: recount.fields, counts: entered, report: recount.report },
        { fields, counts, report },
      );
    }
  });
}
