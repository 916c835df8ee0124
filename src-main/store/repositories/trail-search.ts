import type { TrailSearch } from "#core/contract/records/list-search.ts";
import { TrailLine } from "#core/contract/records/trail.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../connection.ts";
import { sql } from "../sql.ts";
import { lastSequence } from "./row-changes-repository.ts";
import { LINE, LINES, lineOf } from "./trail-lines.ts";
import {
  beginSearch,
  folded,
  type Kind,
  keepWindow,
  kindOf,
  textsOfWindow,
  WINDOW,
  type WindowTexts,
} from "./trail-texts.ts";

class Word {
  readonly mayBeInId: boolean;
  readonly #word: string;
  readonly #needles: readonly string[];

  constructor(word: string) {
    this.#word = word.toLowerCase();
    this.mayBeInId = /^[0-9a-f-]+$/.test(this.#word);
    const cases = [this.#word, word.toUpperCase()].map((one) => folded(Buffer.from(one, "utf8")));
    this.#needles = [...new Set(cases)];
  }

  isIn(text: string | null): boolean {
    return text?.toLowerCase().includes(this.#word) ?? false;
  }

  isInLine({ act, subject, subjectId, reason, detail }: TrailLine): boolean {
    return [detail, act, subject, subjectId, reason].some((text) => this.isIn(text));
  }

  /** Lines, by their place, whose folded text may hold the word. */
  linesIn(text: string, begins: readonly number[]): Set<number> {
    const found = new Set<number>();
    for (const needle of this.#needles) {
      let line = 0;
      for (
        let at = text.indexOf(needle);
        at >= 0;
        at = text.indexOf(needle, begins[line + 1] ?? text.length)
      ) {
        while ((begins[line + 1] ?? Number.POSITIVE_INFINITY) <= at) line += 1;
        found.add(line);
      }
    }
    return found;
  }
}

function kindsIn(db: ReadableDb): Kind[] {
  return sql`SELECT id, person_id AS "personId", act, subject FROM audit_kind`.all(db, kindOf);
}

function wordsOf({ words }: TrailSearch): Word[] {
  return words
    .split(/\s+/)
    .filter(Boolean)
    .map((word) => new Word(word));
}

type IsWanted = (texts: WindowTexts, place: number) => boolean;

/** Whether a line is of the person and the days looked for. */
function wantedBy({ personId, since, until }: TrailSearch, kinds: readonly Kind[]): IsWanted {
  const own = new Set(kinds.filter((kind) => kind.personId === personId).map(({ id }) => id));
  const [sinceMs, untilMs] = [since, until].map((instant) => Date.parse(instant ?? ""));
  const isBefore = (at: number | string, instant: string | null, ms = Number.NaN): boolean =>
    typeof at === "number" ? at < ms : at < (instant ?? "");
  return ({ kinds: kindsOf, instants }, place) => {
    const at = instants[place] ?? 0;
    if (personId !== null && !own.has(kindsOf[place] ?? -1)) return false;
    if (since !== null && isBefore(at, since, sinceMs)) return false;
    return until === null || isBefore(at, until, untilMs);
  };
}

/** Numbers of the lines of a window in which every word may be found, newest first. */
function mayHold(
  texts: WindowTexts,
  words: readonly Word[],
  ofKinds: readonly ReadonlySet<number>[],
  isWanted: IsWanted,
): number[] {
  const { sequences, kinds, begins, text } = texts;
  const inText = words.map((word) => word.linesIn(text, begins));
  return sequences
    .filter(
      (_, i) =>
        words.every((_word, n) => ofKinds[n]?.has(kinds[i] ?? -1) || inText[n]?.has(i)) && isWanted(texts, i),
    )
    .reverse();
}

/**
 * Lines newest first, below `before` (from the end when null), `count` at most. Words are looked for in both of their
 * cases; between windows of some thousand lines other calls are answered.
 */
export async function searchTrail(
  db: ReadableDb,
  before: number | null,
  count: number,
  wanted: TrailSearch,
): Promise<TrailLine[]> {
  const kinds = kindsIn(db);
  if (wanted.personId !== null && !kinds.some(({ personId }) => personId === wanted.personId)) return [];
  const isWanted = wantedBy(wanted, kinds);
  const words = wordsOf(wanted);
  const searched = beginSearch(
    db,
    kinds,
    words.some((word) => word.mayBeInId),
  );
  const ofKinds = words.map(
    (word) =>
      new Set(kinds.filter(({ act, subject }) => word.isIn(act) || word.isIn(subject)).map(({ id }) => id)),
  );
  const yieldToEvents = createYielder();
  const found: TrailLine[] = [];
  const end = before ?? lastSequence(db) + 1;
  // Windows begin at the same lines in every search.
  for (let after = Math.floor((end - 2) / WINDOW) * WINDOW; after >= 0; after -= WINDOW) {
    if (found.length >= count) break;
    const texts = textsOfWindow(db, after, searched);
    for (const sequence of mayHold(texts, words, ofKinds, isWanted)) {
      if (found.length >= count || sequence >= end) continue;
      const row = sql`SELECT ${LINE} FROM ${LINES} WHERE a.sequence = ${sequence}`.one(db);
      const line = row && TrailLine.parse(lineOf(row));
      if (line && words.every((word) => word.isInLine(line))) found.push(line);
    }
    await yieldToEvents();
  }
  return found;
}

/** Benches whose trail was read ahead: an open page asks anew with every act, and one reading is enough. */
const readAhead = new WeakSet<ReadableDb>();

/**
 * Reads the texts of the trail, once for a bench that is open, before somebody searches it, the newest first, so that the
 * first search is as quick as those after it. Between windows other calls are answered; ends where there is room for no
 * more, or the bench is closed.
 */
export async function readTrailAhead(db: ReadableDb): Promise<void> {
  if (readAhead.has(db)) return;
  readAhead.add(db);
  const searched = beginSearch(db, kindsIn(db), false);
  const yieldToEvents = createYielder();
  const last = Math.floor(lastSequence(db) / WINDOW) - 1;
  for (let window = last; window >= 0; window -= 1) {
    if (!keepWindow(db, window * WINDOW, searched)) return;
    await yieldToEvents();
  }
}
