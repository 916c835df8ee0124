import type { Count, CountEvent } from "#core/contract/records/count.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import { replayEvents } from "#core/counting/inputs/field-counts.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  categorySums,
  eventsFrom,
  fieldSums,
  findCountingHead,
  firstHashOf,
  hashOfEvent,
  pressSums,
} from "../../store/repositories/count-event-repository.ts";
import { countIds, findCount } from "../../store/repositories/count-repository.ts";
import { resultsOfCount } from "../counts/count-lookup.ts";
import type { CountUnderCheck } from "./count-under-check.ts";
import type { Differences } from "./differences.ts";
import { checkRecord } from "./verify-calibrations.ts";
import { checkCellVolumes } from "./verify-cell-volumes.ts";
import { checkCountHead } from "./verify-count-heads.ts";
import { checkCountTrail, verifyRecounts } from "./verify-count-trail.ts";

type YieldToEvents = ReturnType<typeof createYielder>;

const PAGE = 1000;

function checkEvent(
  event: CountEvent,
  before: { readonly sequence: number; readonly hash: string },
  where: string,
  differences: Differences,
): void {
  if (event.sequence !== before.sequence + 1) {
    differences.add(
      `${where}, event ${before.sequence + 1}`,
      "no event",
      "an event: the numbers have no gaps",
    );
  }
  const { hash, struckBy: _, ...plain } = event;
  const expected = hashOfEvent(plain, before.hash);
  if (hash !== expected) differences.add(`${where}, event ${event.sequence}`, hash, expected);
}

/** Follows the chain of a count's events. @returns them all, with the hash by sequence number */
async function readEvents(
  db: ReadableDb,
  count: Count,
  where: string,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<CountEvent[]> {
  const events: CountEvent[] = [];
  let before = { sequence: 0, hash: firstHashOf(count.id) };
  for (;;) {
    const page = eventsFrom(db, count.id, before.sequence + 1, PAGE);
    for (const event of page) {
      checkEvent(event, before, where, differences);
      before = event;
      events.push(event);
    }
    if (page.length < PAGE) return events;
    await yieldToEvents();
  }
}

/** Which undo struck which event, as the undos themselves say. */
function checkStrikes({ events, where, differences }: CountUnderCheck): void {
  const strikes = new Map(events.map((event) => [event.strikes, event.sequence]));
  for (const event of events) {
    const expected = strikes.get(event.sequence) ?? null;
    differences.compare(`${where}, event ${event.sequence}, struck by`, event.struckBy, expected);
  }
}

function checkSums({ db, count, events, where, differences }: CountUnderCheck): void {
  const { fields, currentField } = replayEvents(events);
  differences.compare(`${where}, field in hand`, count.currentField, currentField);
  const totals = new Map<string, number>();
  const highest = Math.max(count.currentField, ...fields.keys());
  for (let field = 1; field <= highest; field += 1) {
    const stored = fieldSums(db, count.id, field);
    const replayed = fields.get(field);
    for (const key of new Set([...stored.keys(), ...(replayed?.keys() ?? [])])) {
      const expected = replayed?.get(key)?.thousandths ?? 0;
      totals.set(key, (totals.get(key) ?? 0) + expected);
      const shown = textOfThousandths(stored.get(key) ?? 0);
      differences.compare(`${where}, field ${field}, ${key}, objects`, shown, textOfThousandths(expected));
    }
  }
  const sums = categorySums(db, count.id);
  for (const key of new Set([...sums.keys(), ...totals.keys()])) {
    const [kept, expected] = [sums, totals].map((of) => textOfThousandths(of.get(key) ?? 0));
    differences.compare(`${where}, ${key}, objects`, kept, expected);
  }
}

/** Presses, of every field and of the whole, as the events make them. */
function checkPresses({ db, count, events, where, differences }: CountUnderCheck): void {
  const expected = new Map<string, number>();
  for (const [field, categories] of replayEvents(events).fields) {
    for (const [category, { presses }] of categories) {
      expected.set(`${field} ${category}`, presses);
      expected.set(`0 ${category}`, (expected.get(`0 ${category}`) ?? 0) + presses);
    }
  }
  const stored = pressSums(db, count.id);
  for (const key of new Set([...stored.keys(), ...expected.keys()])) {
    const [field, ...category] = key.split(" ");
    const place = field === "0" ? where : `${where}, field ${field}`;
    differences.compare(
      `${place}, ${category.join(" ")}, presses`,
      stored.get(key) ?? 0,
      expected.get(key) ?? 0,
    );
  }
}

function checkHead({ db, count, events, where, differences }: CountUnderCheck): void {
  const last = events.at(-1);
  const head = findCountingHead(db, count.id);
  differences.compare(`${where}, last event`, head?.lastSequence, last?.sequence ?? 0);
  differences.compare(
    `${where}, hash of the last event`,
    head?.lastHash,
    last?.hash ?? firstHashOf(count.id),
  );
}

/**
 * Follows every count's chain of presses, replays it against the stored sums, compares keys, inputs, positions and anchors
 * with the trail, and recomputes the frozen results; recounts are compared with the trail.
 * @returns how many counts there are
 */
export async function verifyCounts(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<number> {
  verifyRecounts(db, differences);
  let n = 0;
  for (const id of countIds(db)) {
    n += 1;
    let count: Count | null = null;
    checkRecord(`count ${id}`, differences, () => {
      count = findCount(db, id);
    });
    const found = count as Count | null;
    if (!found) continue;
    const where = `count ${found.number}`;
    let events: CountEvent[] | null = null;
    try {
      events = await readEvents(db, found, where, differences, yieldToEvents);
    } catch (error) {
      differences.add(
        where,
        `cannot be read: ${error instanceof Error ? error.message : error}`,
        "a whole record",
      );
    }
    const read = events;
    if (read) {
      checkRecord(where, differences, () => {
        const underCheck = { db, count: found, events: read, where, differences };
        checkStrikes(underCheck);
        checkSums(underCheck);
        checkPresses(underCheck);
        checkHead(underCheck);
        checkCountTrail(underCheck);
        checkCellVolumes(underCheck);
        checkCountHead(underCheck);
        if (!found.results) return;
        const results = resultsOfCount(
          db,
          found,
          found.secondsBefore,
          found.results.countRule ?? "clustered-only",
        );
        differences.compare(`${where}, results`, found.results, results);
      });
    }
    await yieldToEvents();
  }
  return n;
}
