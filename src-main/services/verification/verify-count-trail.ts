import type { Count, FieldPosition } from "#core/contract/records/count.ts";
import { storedAct } from "#core/contract/stored-names.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { categoryListIds, storedCategoryLists } from "../../store/repositories/category-list-repository.ts";
import { fieldsOfCount, firstHashOf } from "../../store/repositories/count-event-repository.ts";
import { countMethodIds, storedCountMethods } from "../../store/repositories/count-method-repository.ts";
import type { MethodVersion, VersionReader } from "../../store/repositories/method-versions.ts";
import { listRecounts } from "../../store/repositories/recount-repository.ts";
import type { CountUnderCheck } from "./count-under-check.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";

type Changed<T> = T | { readonly to: T };

interface CountDetail {
  readonly sequence?: number;
  readonly hash?: string;
  readonly categories?: Changed<Count["categories"]>;
  readonly inputs?: Changed<Count["inputs"]>;
  readonly calibrationId?: Changed<string | null>;
  readonly linkedSheetId?: Changed<string | null>;
  readonly field?: number;
  readonly position?: Changed<FieldPosition | null>;
  readonly results?: Count["results"];
}

function latest<T>(detail: Changed<T>): T {
  return typeof detail === "object" && detail !== null && "to" in detail ? detail.to : detail;
}

const KEPT = ["categories", "inputs", "calibrationId", "linkedSheetId"] as const;

/** What the trail last said of a count; of its fields' positions by number. */
function takeDetail(
  detail: CountDetail,
  act: string,
  state: Record<string, unknown>,
  positions: Map<number, unknown>,
): void {
  for (const key of KEPT) {
    const value = detail[key];
    if (value !== undefined) state[key] = latest<unknown>(value);
  }
  if (detail.position !== undefined) positions.set(detail.field ?? 1, latest<unknown>(detail.position));
  if (act === storedAct("counts.close")) state.results = detail.results;
  if (act === storedAct("counts.reopen")) state.results = null;
}

/**
 * Keys, inputs, calibration, positions and frozen results as the trail last told them, and every anchor against the event
 * it names.
 */
export function checkCountTrail({ db, count, events, where, differences }: CountUnderCheck): void {
  const state: Record<string, unknown> = { linkedSheetId: null, results: null };
  const positions = new Map<number, unknown>();
  for (const line of trailOf(db, count.id)) {
    const detail: CountDetail = JSON.parse(line.detail);
    takeDetail(detail, line.act, state, positions);
    if (detail.sequence === undefined || detail.hash === undefined) continue;
    const hash = events[detail.sequence - 1]?.hash ?? firstHashOf(count.id);
    differences.compare(
      `${where}, event ${detail.sequence}, as told by trail line ${line.sequence}`,
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

/** Every version of a kind against the trail's line that defined it. */
function verifyVersions<T extends MethodVersion>(
  db: ReadableDb,
  differences: Differences,
  { noun, act, ids, stored }: { noun: string; act: string; ids: readonly string[]; stored: VersionReader<T> },
): void {
  for (const id of ids) {
    const where = `${noun} ${id}`;
    checkRecord(where, differences, () => {
      const line = trailOf(db, id).find((one) => one.act === act);
      const detail = line ? JSON.parse(line.detail) : {};
      const { definition, version, familyId } = stored.find(db, id) ?? {};
      differences.compare(
        `${where}, as told by the trail`,
        { definition, version, familyId },
        { definition: detail.definition, version: detail.version, familyId: detail.familyId },
      );
    });
  }
}

/** Every count method and every category list against the line that defined it. */
export function verifyCountMethods(db: ReadableDb, differences: Differences): void {
  verifyVersions(db, differences, {
    noun: "count method",
    act: "countMethods.define",
    ids: countMethodIds(db),
    stored: storedCountMethods,
  });
  verifyVersions(db, differences, {
    noun: "category list",
    act: "categoryLists.define",
    ids: categoryListIds(db),
    stored: storedCategoryLists,
  });
}

/** Every recount against the trail: the fields drawn, the counts last entered and the report. */
export function verifyRecounts(db: ReadableDb, differences: Differences): void {
  checkRecord("recounts", differences, () => {
    for (const recount of listRecounts(db, null)) {
      const counts: Record<string, unknown> = {};
      let fields: unknown;
      let report: unknown = null;
      for (const line of trailOf(db, recount.id)) {
        const detail = JSON.parse(line.detail);
        if (line.act === "recounts.enter") counts[detail.field] = detail.to;
        else if (line.act === "recounts.finish") report = detail.report;
        else fields = detail.fields;
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
