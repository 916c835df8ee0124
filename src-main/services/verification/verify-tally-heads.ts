import type { Tally } from "#core/contract/records/tally.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { listRecounts, planOfRecount } from "../../store/repositories/recount-repository.ts";
import { fieldsOfTally } from "../../store/repositories/tally-event-repository.ts";
import { listTallies, tallyNumber } from "../../store/repositories/tally-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import { compareWithTold, factsBy, type StoredFact, toldBy } from "./compare-told.ts";
import type { Differences } from "./differences.ts";
import type { TallyUnderCheck } from "./tally-under-check.ts";
import type { ToldAct, ToldActs } from "./told-acts.ts";

const NOT_CLOSED = { closedAt: null, closedBy: null, lastFieldCounted: false };
const STOPPED = { runningSince: null };

/** Head of a count, its time and its closing, line by line. */
function headTold(db: ReadableDb, tally: Tally): Record<string, unknown> {
  let head: Record<string, unknown> = {};
  for (const { act, at, personId, detail } of trailOf(db, tally.id)) {
    const told = JSON.parse(detail);
    if (act === "tallies.open") {
      const { sample, customer = null, note, countMethodId, trainId, batch, trainCautions = [] } = told;
      const { categoryListId = null } = told;
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
    } else if (act === "tallies.close") {
      const { lastFieldCounted, seconds } = told;
      head = {
        ...head,
        ...STOPPED,
        closedAt: at,
        closedBy: personId,
        lastFieldCounted,
        secondsBefore: seconds,
      };
    } else if (act === "tallies.pause") head = { ...head, ...STOPPED, secondsBefore: told.seconds };
    else if (act === "tallies.resume") {
      const { trainCautions = head.trainCautions } = told;
      head = { ...head, runningSince: at, secondsBefore: undefined, trainCautions };
    } else if (act === "tallies.cautionsFollowed") head = { ...head, trainCautions: told.trainCautions };
    else if (act === "tallies.reopen") head = { ...head, ...NOT_CLOSED, ...STOPPED };
  }
  return head;
}

/** What a count was opened for, how long it took and who closed it; and when each of its fields was begun. */
export function checkTallyHead({ db, tally, events, where, differences }: TallyUnderCheck): void {
  const stored: Readonly<Record<string, unknown>> = {
    ...tally,
    customer: tally.customer ?? null,
    categoryListId: tally.categoryListId ?? null,
  };
  for (const [name, value] of Object.entries(headTold(db, tally))) {
    if (value !== undefined) {
      differences.compare(`${where}, as told by the trail, ${name}`, stored[name], value);
    }
  }
  const begun = new Map(
    events
      .filter(({ kind, struckBy }) => kind === "field" && struckBy === null)
      .map(({ field, at }) => [field, at]),
  );
  const fields = fieldsOfTally(db, tally.id, tally.currentField);
  differences.compare(
    `${where}, its fields`,
    fields.map(({ ordinal }) => ordinal),
    Array.from({ length: tally.currentField }, (_, i) => i + 1),
  );
  for (const { ordinal, begunAt } of fields) {
    const expected = ordinal === 1 ? tally.openedAt : begun.get(ordinal);
    differences.compare(`${where}, field ${ordinal}, begun`, begunAt, expected ?? null);
  }
}

/** Counts are numbered in the order in which they were opened, and none that was opened is missing. */
export function verifyTallyNumbers(db: ReadableDb, acts: ToldActs, differences: Differences): void {
  const opened = acts.of("tallies.open").map((line) => line.subjectId);
  const stored = listTallies(db).toSorted((one, other) => (one.number < other.number ? -1 : 1));
  differences.compare(
    "counts by their numbers",
    stored.map(({ id }) => id),
    opened,
  );
  stored.forEach(({ number }, i) => {
    differences.compare(`count ${number}, number`, number, tallyNumber(i + 1));
  });
}

/** When and by whom each field was counted again last. */
type Entries = Readonly<Record<string, { readonly at: string; readonly by: string | null }>>;

function toldOfRecount({ act, at, by, detail }: ToldAct, entries: Entries): StoredFact["fields"] {
  if (act === "recounts.finish") return { finishedAt: at, finishedBy: by };
  if (act === "recounts.enter") return { entries: { ...entries, [String(detail.field)]: { at, by } } };
  const { planId, tallyId, kind, share } = detail;
  const planned = { planId, tallyId, kind, share, plannedAt: at, plannedBy: by };
  return { ...planned, finishedAt: null, finishedBy: null, entries: {} };
}

/** Who planned, counted and finished every recount; its fields, counts and report are compared elsewhere. */
export function verifyRecountActs(db: ReadableDb, acts: ToldActs, differences: Differences): void {
  const entries = new Map<string, Entries>();
  const lines = acts.of("recounts.planFields", "recounts.planSlides", "recounts.enter", "recounts.finish");
  const where = (id: string): string => `recount ${id}`;
  compareWithTold(
    differences,
    factsBy(
      listRecounts(db, null),
      ({ id }) => id,
      ({ id, tallyId, kind, share, plannedAt, plannedBy, finishedAt, finishedBy, entries: counted }) => ({
        where: where(id),
        fields: {
          ...{
            planId: planOfRecount(db, id),
            tallyId,
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
    toldBy(
      lines,
      (line) => line.subjectId,
      (line) => {
        const fields = toldOfRecount(line, entries.get(line.subjectId) ?? {});
        if (fields.entries) entries.set(line.subjectId, fields.entries as Entries);
        return { where: where(line.subjectId), fields };
      },
    ),
  );
}
