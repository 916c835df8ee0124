import type { Tally, TallyEvent } from "#core/contract/records/tally.ts";
import { textOfThousandths } from "#core/counting/inputs/counting-unit.ts";
import { replayEvents } from "#core/counting/inputs/tally-counts.ts";
import type { createBreather } from "../../pace/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  categorySums,
  eventsFrom,
  fieldSums,
  findCountingHead,
  firstHashOf,
  hashOfEvent,
  pressSums,
} from "../../store/repositories/tally-event-repository.ts";
import { findTally, tallyIds } from "../../store/repositories/tally-repository.ts";
import { resultsOfTally } from "../counts/tally-ground.ts";
import type { Differences } from "./differences.ts";
import type { TallyUnderCheck } from "./tally-under-check.ts";
import { checkRecord } from "./verify-calibrations.ts";
import { checkTallyHead } from "./verify-tally-heads.ts";
import { checkTallyTrail, verifyCountMethods, verifyRecounts } from "./verify-tally-trail.ts";

type Breathe = ReturnType<typeof createBreather>;

const PAGE = 1000;

function checkEvent(
  event: TallyEvent,
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
  tally: Tally,
  where: string,
  differences: Differences,
  breathe: Breathe,
): Promise<TallyEvent[]> {
  const events: TallyEvent[] = [];
  let before = { sequence: 0, hash: firstHashOf(tally.id) };
  for (;;) {
    const page = eventsFrom(db, tally.id, before.sequence + 1, PAGE);
    for (const event of page) {
      checkEvent(event, before, where, differences);
      before = event;
      events.push(event);
    }
    if (page.length < PAGE) return events;
    await breathe();
  }
}

/** Which undo struck which event, as the undos themselves say. */
function checkStrikes({ events, where, differences }: TallyUnderCheck): void {
  const strikes = new Map(events.map((event) => [event.strikes, event.sequence]));
  for (const event of events) {
    const expected = strikes.get(event.sequence) ?? null;
    differences.compare(`${where}, event ${event.sequence}, struck by`, event.struckBy, expected);
  }
}

function checkSums({ db, tally, events, where, differences }: TallyUnderCheck): void {
  const { fields, currentField } = replayEvents(events);
  differences.compare(`${where}, field in hand`, tally.currentField, currentField);
  const totals = new Map<string, number>();
  const highest = Math.max(tally.currentField, ...fields.keys());
  for (let field = 1; field <= highest; field += 1) {
    const stored = fieldSums(db, tally.id, field);
    const replayed = fields.get(field);
    for (const key of new Set([...stored.keys(), ...(replayed?.keys() ?? [])])) {
      const expected = replayed?.get(key)?.thousandths ?? 0;
      totals.set(key, (totals.get(key) ?? 0) + expected);
      const shown = textOfThousandths(stored.get(key) ?? 0);
      differences.compare(`${where}, field ${field}, ${key}, objects`, shown, textOfThousandths(expected));
    }
  }
  const sums = categorySums(db, tally.id);
  for (const key of new Set([...sums.keys(), ...totals.keys()])) {
    const [kept, expected] = [sums, totals].map((of) => textOfThousandths(of.get(key) ?? 0));
    differences.compare(`${where}, ${key}, objects`, kept, expected);
  }
}

/** Presses, of every field and of the whole, as the events make them. */
function checkPresses({ db, tally, events, where, differences }: TallyUnderCheck): void {
  const expected = new Map<string, number>();
  for (const [field, categories] of replayEvents(events).fields) {
    for (const [category, { presses }] of categories) {
      expected.set(`${field} ${category}`, presses);
      expected.set(`0 ${category}`, (expected.get(`0 ${category}`) ?? 0) + presses);
    }
  }
  const stored = pressSums(db, tally.id);
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

function checkHead({ db, tally, events, where, differences }: TallyUnderCheck): void {
  const last = events.at(-1);
  const head = findCountingHead(db, tally.id);
  differences.compare(`${where}, last event`, head?.lastSequence, last?.sequence ?? 0);
  differences.compare(
    `${where}, hash of the last event`,
    head?.lastHash,
    last?.hash ?? firstHashOf(tally.id),
  );
}

/**
 * Follows every count's chain of presses, replays it against the stored sums, compares keys, inputs, positions and anchors
 * with the trail, and recomputes the frozen results; count methods and recounts are compared with the trail.
 * @returns how many counts there are
 */
export async function verifyTallies(
  db: ReadableDb,
  differences: Differences,
  breathe: Breathe,
): Promise<number> {
  verifyCountMethods(db, differences);
  verifyRecounts(db, differences);
  let count = 0;
  for (const id of tallyIds(db)) {
    count += 1;
    let tally: Tally | null = null;
    checkRecord(`count ${id}`, differences, () => {
      tally = findTally(db, id);
    });
    const found = tally as Tally | null;
    if (!found) continue;
    const where = `count ${found.number}`;
    let events: TallyEvent[] | null = null;
    try {
      events = await readEvents(db, found, where, differences, breathe);
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
        const underCheck = { db, tally: found, events: read, where, differences };
        checkStrikes(underCheck);
        checkSums(underCheck);
        checkPresses(underCheck);
        checkHead(underCheck);
        checkTallyTrail(underCheck);
        checkTallyHead(underCheck);
        if (!found.results) return;
        const results = resultsOfTally(
          db,
          found,
          found.secondsBefore,
          found.results.countRule ?? "clustered-only",
        );
        differences.compare(`${where}, results`, found.results, results);
      });
    }
    await breathe();
  }
  return count;
}
