import type { Count } from "#core/contract/records/count.ts";
import { STORED } from "#core/contract/stored-names.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { fieldsOfCount } from "../../store/repositories/count-event-repository.ts";
import { countNumber, listCounts } from "../../store/repositories/count-repository.ts";
import { listRecounts, planOfRecount } from "../../store/repositories/recount-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { compareWithTrail, factsFromTrail, type StoredFact, storedFacts } from "./compare-with-trail.ts";
import { correctedBy } from "./corrected-detail.ts";
import type { CountUnderCheck } from "./count-under-check.ts";
import type { Differences } from "./differences.ts";
import type { TrailIndex } from "./trail-index.ts";

const NOT_CLOSED = { closedAt: null, closedBy: null, lastFieldCounted: false };
const STOPPED = { runningSince: null };

function openedHead(
  db: ReadableDb,
  { at, by, detail }: ToldEvent<"counts.open">,
): Readonly<Record<string, unknown>> {
  const { sample, customer, note, countMethodId, categoryListId = null, trainId, batch } = detail;
  const train = trainId === null ? null : findTrain(db, trainId);
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = train ?? {};
  return {
    ...{ sample, customer, note, countMethodId, categoryListId, trainId, batch },
    trainCautions: detail.trainCautions,
    openedAt: at,
    openedBy: by,
    control: null,
    runningSince: detail.waits ? null : at,
    ...NOT_CLOSED,
    train: train && { microscopeId, eyepieceId, intermediateMagnification, objectiveId },
  };
}

/** What an event changes of the head of its count, of its time and its closing. */
function changeOfHead(db: ReadableDb, event: ToldEvent): Readonly<Record<string, unknown>> {
  switch (event.act) {
    case "counts.open":
      return openedHead(db, event);
    case "counts.close": {
      const { lastFieldCounted, seconds } = event.detail;
      const closed = { closedAt: event.at, closedBy: event.by, lastFieldCounted };
      return { ...STOPPED, ...closed, secondsBefore: seconds };
    }
    case "counts.pause":
      return { ...STOPPED, secondsBefore: event.detail.seconds };
    case "counts.resume": {
      const { trainCautions } = event.detail;
      const running = { runningSince: event.at, secondsBefore: undefined };
      return trainCautions === undefined ? running : { ...running, trainCautions };
    }
    case "counts.setControl":
      return { control: event.detail.control.to };
    case "counts.cautionsFollowed":
      return { trainCautions: event.detail.trainCautions };
    case "counts.reopen":
      return { ...NOT_CLOSED, ...STOPPED };
    default:
      return {};
  }
}

/** Head of a count, its time and its closing, as its events fold. */
function headFromTrail(db: ReadableDb, count: Count): Readonly<Record<string, unknown>> {
  const events = eventsOf(db, count.id);
  return correctedBy(Object.assign({}, ...events.map((event) => changeOfHead(db, event))), events);
}

/** What a count was opened for, how long it took and who closed it; and when each of its fields was begun. */
export function checkCountHead({ db, count, events, where, differences }: CountUnderCheck): void {
  const stored: Readonly<Record<string, unknown>> = {
    ...count,
    customer: count.customer ?? null,
    categoryListId: count.categoryListId ?? null,
    control: count.control ?? null,
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
  const started = eventsOf(db, count.id).findLast(
    ({ act, detail }) => act === "counts.resume" && detail.begins,
  );
  const fields = fieldsOfCount(db, count.id, count.currentField);
  differences.compare(
    `${where}, its fields`,
    fields.map(({ ordinal }) => ordinal),
    Array.from({ length: count.currentField }, (_, i) => i + 1),
  );
  for (const { ordinal, begunAt } of fields) {
    const expected = ordinal === 1 ? (started?.at ?? count.openedAt) : begun.get(ordinal);
    differences.compare(`${where}, field ${ordinal}, begun`, begunAt, expected ?? null);
  }
}

/** Counts are numbered in the order in which they were opened, and none that was opened is missing. */
export function verifyCountNumbers(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const opened = acts.of("counts.open").map((line) => line.subjectId);
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

const RECOUNT_ACTS = [
  "recounts.planFields",
  "recounts.planSlides",
  "recounts.enter",
  "recounts.finish",
] as const;
type RecountEvent = ToldEvent<(typeof RECOUNT_ACTS)[number]>;

/** When and by whom each field was counted again last. */
type Entries = Readonly<Record<string, { readonly at: string; readonly by: string | null }>>;

function recountFromTrail({ act, at, by, detail }: RecountEvent, entries: Entries): StoredFact["fields"] {
  if (act === "recounts.finish") return { finishedAt: at, finishedBy: by };
  if (act === "recounts.enter") return { entries: { ...entries, [detail.field]: { at, by } } };
  const { planId, [STORED.countId]: countId, kind, share } = detail;
  const planned = { planId, countId, kind, share, plannedAt: at, plannedBy: by };
  return { ...planned, finishedAt: null, finishedBy: null, entries: {} };
}

/** Who planned, counted and finished every recount; its fields, counts and report are compared elsewhere. */
export function verifyRecountActs(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const entries = new Map<string, Entries>();
  const lines = acts.of(...RECOUNT_ACTS);
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
