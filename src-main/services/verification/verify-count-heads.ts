import type { Count } from "#core/contract/records/count.ts";
import { STORED, storedAct } from "#core/contract/stored-names.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { fieldsOfCount } from "../../store/repositories/count-event-repository.ts";
import { countNumber, listCounts } from "../../store/repositories/count-repository.ts";
import { listRecounts, planOfRecount } from "../../store/repositories/recount-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { compareWithTrail, factsFromTrail, type StoredFact, storedFacts } from "./compare-with-trail.ts";
import { correctedBy } from "./corrected-detail.ts";
import type { CountUnderCheck } from "./count-under-check.ts";
import type { Differences } from "./differences.ts";
import type { TrailEntry, TrailIndex } from "./trail-index.ts";

const NOT_CLOSED = { closedAt: null, closedBy: null, lastFieldCounted: false };
const STOPPED = { runningSince: null };

/** Head of a count, its time and its closing, line by line. */
function headFromTrail(db: ReadableDb, count: Count): Record<string, unknown> {
  let head: Record<string, unknown> = {};
  const lines = trailOf(db, count.id);
  for (const { act, at, personId, detail } of lines) {
    const opened = JSON.parse(detail);
    if (act === storedAct("counts.open")) {
      const { sample, customer = null, note, countMethodId, trainId, batch, trainCautions = [] } = opened;
      const { categoryListId = null } = opened;
      const train = trainId === null ? null : findTrain(db, trainId);
      const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = train ?? {};
      head = {
        ...{
          sample,
          customer,
          note,
          countMethodId,
          categoryListId,
          trainId,
          batch,
          trainCautions,
          openedAt: at,
          openedBy: personId,
          runningSince: at,
          ...NOT_CLOSED,
        },
        train: train && { microscopeId, eyepieceId, intermediateMagnification, objectiveId },
      };
    } else if (act === storedAct("counts.close")) {
      const { lastFieldCounted, seconds } = opened;
      head = {
        ...head,
        ...STOPPED,
        closedAt: at,
        closedBy: personId,
        lastFieldCounted,
        secondsBefore: seconds,
      };
    } else if (act === storedAct("counts.pause"))
      head = { ...head, ...STOPPED, secondsBefore: opened.seconds };
    else if (act === storedAct("counts.resume")) {
      const { trainCautions = head.trainCautions } = opened;
      head = { ...head, runningSince: at, secondsBefore: undefined, trainCautions };
    } else if (act === storedAct("counts.cautionsFollowed"))
      head = { ...head, trainCautions: opened.trainCautions };
    else if (act === storedAct("counts.reopen")) head = { ...head, ...NOT_CLOSED, ...STOPPED };
  }
  return correctedBy(head, lines);
}

/** What a count was opened for, how long it took and who closed it; and when each of its fields was begun. */
export function checkCountHead({ db, count, events, where, differences }: CountUnderCheck): void {
  const stored: Readonly<Record<string, unknown>> = {
    ...count,
    customer: count.customer ?? null,
    categoryListId: count.categoryListId ?? null,
  };
  for (const [name, value] of Object.entries(headFromTrail(db, count))) {
    if (value !== undefined) {
      differences.compare(`${where}, as told by the trail, ${name}`, stored[name], value);
    }
  }
  const begun = new Map(
    events
      .filter(({ kind, struckBy }) => kind === "field" && struckBy === null)
      .map(({ field, at }) => [field, at]),
  );
  const fields = fieldsOfCount(db, count.id, count.currentField);
  differences.compare(
    `${where}, its fields`,
    fields.map(({ ordinal }) => ordinal),
    Array.from({ length: count.currentField }, (_, i) => i + 1),
  );
  for (const { ordinal, begunAt } of fields) {
    const expected = ordinal === 1 ? count.openedAt : begun.get(ordinal);
    differences.compare(`${where}, field ${ordinal}, begun`, begunAt, expected ?? null);
  }
}

/** Counts are numbered in the order in which they were opened, and none that was opened is missing. */
export function verifyCountNumbers(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const opened = acts.of(storedAct("counts.open")).map((line) => line.subjectId);
  const stored = listCounts(db).toSorted((one, other) => (one.number < other.number ? -1 : 1));
  differences.compare(
    "counts by their numbers",
    stored.map(({ id }) => id),
    opened,
  );
  stored.forEach(({ number }, i) => {
    differences.compare(`count ${number}, number`, number, countNumber(i + 1));
  });
}

/** When and by whom each field was counted again last. */
type Entries = Readonly<Record<string, { readonly at: string; readonly by: string | null }>>;

function recountFromTrail({ act, at, by, detail }: TrailEntry, entries: Entries): StoredFact["fields"] {
  if (act === "recounts.finish") return { finishedAt: at, finishedBy: by };
  if (act === "recounts.enter") return { entries: { ...entries, [String(detail.field)]: { at, by } } };
  const { planId, [STORED.countId]: countId, kind, share } = detail;
  const planned = { planId, countId, kind, share, plannedAt: at, plannedBy: by };
  return { ...planned, finishedAt: null, finishedBy: null, entries: {} };
}

/** Who planned, counted and finished every recount; its fields, counts and report are compared elsewhere. */
export function verifyRecountActs(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const entries = new Map<string, Entries>();
  const lines = acts.of("recounts.planFields", "recounts.planSlides", "recounts.enter", "recounts.finish");
  const where = (id: string): string => `recount ${id}`;
  compareWithTrail(
    differences,
    storedFacts(
      listRecounts(db, null),
      ({ id }) => id,
      ({ id, countId, kind, share, plannedAt, plannedBy, finishedAt, finishedBy, entries: counted }) => ({
        where: where(id),
        fields: {
          ...{
            planId: planOfRecount(db, id),
            countId,
            kind,
            share,
            plannedAt,
            plannedBy,
            finishedAt,
            finishedBy,
          },
          entries: Object.fromEntries(counted.map(({ field, at, by }) => [String(field), { at, by }])),
        },
      }),
    ),
    factsFromTrail(
      lines,
      (line) => line.subjectId,
      (line) => {
        const fields = recountFromTrail(line, entries.get(line.subjectId) ?? {});
        if (fields.entries) entries.set(line.subjectId, fields.entries as Entries);
        return { where: where(line.subjectId), fields };
      },
    ),
  );
}
