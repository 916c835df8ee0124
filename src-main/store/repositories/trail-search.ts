import type { TrailSearch } from "#core/contract/records/list-search.ts";
import { TrailLine } from "#core/contract/records/trail.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import { all, type BoundByName, one, type ReadableDb } from "../connection.ts";
import { CopiesReader } from "../text-copies.ts";
import { appendDetail, type Known, unpackId, unpackInstant } from "../trail-packing.ts";
import { lastSequence } from "./row-changes-repository.ts";
import { LINE, LINES, lineOf } from "./trail-lines.ts";

const WINDOW = 4000;
/** Room for the texts of many lines, bytes. */
const ROOM = 1 << 21;
const END_OF_LINE = Buffer.from("\n");

interface Kind {
  readonly id: number;
  readonly personId: string | null;
  readonly act: string;
  readonly subject: string;
}

interface Conditions {
  readonly sql: string;
  readonly bound: BoundByName;
}

function conditionsOf({ personId, since, until }: TrailSearch, kinds: readonly Kind[]): Conditions {
  const at = (operator: string, name: string): string =>
    `AND iif(typeof(a.at) = 'integer', a.at ${operator} :${name}Ms, a.at ${operator} :${name})`;
  const own = kinds.filter((kind) => kind.personId === personId).map(({ id }) => id);
  const conditions: Conditions[] = [];
  if (personId !== null) {
    const sql = "AND a.kind IN (SELECT value FROM json_each(:kinds))";
    conditions.push({ sql, bound: { kinds: JSON.stringify(own) } });
  }
  if (since !== null)
    conditions.push({ sql: at(">=", "since"), bound: { since, sinceMs: Date.parse(since) } });
  if (until !== null)
    conditions.push({ sql: at("<", "until"), bound: { until, untilMs: Date.parse(until) } });
  return {
    sql: conditions.map(({ sql }) => sql).join(" "),
    bound: Object.assign({}, ...conditions.map(({ bound }) => bound)) as BoundByName,
  };
}

/** Bytes of UTF-8 as characters, capitals made small: what only looks alike is sorted out when the line is read. */
const folded = (bytes: Buffer): string => bytes.toString("latin1").toLowerCase();

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

/** What stands before the texts of a line, and these: detail, identifier, reason, instant. */
const PACKED_LINES = `SELECT CAST(group_concat(
    printf('%d %d %d %d %d %d %d %d ', a.sequence, a.kind, a.model, octet_length(a.detail), octet_length(a.subject_id),
      typeof(a.subject_id) = 'text', octet_length(a.reason), octet_length(a.at))
    || a.detail || a.subject_id || coalesce(a.reason, '') || a.at, '') AS BLOB) AS bytes
  FROM audit_line a NOT INDEXED WHERE a.sequence > :after AND a.sequence < :before`;
const HEADER_NUMBERS = 8;
const SPACE = 32;
const ZERO = 48;

interface PackedLine {
  readonly sequence: number;
  readonly kind: number;
  readonly model: number;
  readonly idIsText: boolean;
  /** Where its texts begin and the last one ends. */
  readonly detail: number;
  readonly id: number;
  readonly reason: number;
  readonly at: number;
  readonly end: number;
}

function packedLineAt(bytes: Uint8Array, from: number): PackedLine {
  const numbers: number[] = [];
  let at = from;
  while (numbers.length < HEADER_NUMBERS) {
    let number = 0;
    for (; at < bytes.length && bytes[at] !== SPACE; at += 1) number = number * 10 + (bytes[at] ?? 0) - ZERO;
    numbers.push(number);
    at += 1;
  }
  const [sequence = 0, kind = 0, model = 0, details = 0, ids = 0, isText = 0, reasons = 0, instants = 0] =
    numbers;
  const id = at + details;
  const reason = id + ids;
  const instant = reason + reasons;
  const idIsText = isText === 1;
  return { sequence, kind, model, idIsText, detail: at, id, reason, at: instant, end: instant + instants };
}

/** What a search keeps from window to window. */
interface Searched {
  readonly kinds: ReadonlyMap<number, Kind>;
  readonly models: ReadonlyMap<number, string>;
  readonly reader: CopiesReader;
  /** A word may be part of an identifier, hexadecimal digits that are kept as bytes. */
  readonly withIds: boolean;
}

const instantOf = (kept: string): string => unpackInstant(/^-?\d+$/.test(kept) ? Number(kept) : kept);

/**
 * The lines of a window, and all their texts put together and folded. They come from the file as one piece of bytes: a
 * row of its own for each line takes longer than all else together.
 */
function textsOf(
  db: ReadableDb,
  sql: string,
  bound: BoundByName,
  { kinds, models, reader, withIds }: Searched,
) {
  const bytes = (one(db, `${PACKED_LINES} ${sql}`, bound)?.bytes ?? END_OF_LINE.subarray(1)) as Buffer;
  let text = "";
  const begins: number[] = [];
  const lines: Pick<PackedLine, "sequence" | "kind">[] = [];
  const flush = (): void => {
    text += folded(reader.made.subarray(0, reader.end));
    reader.end = 0;
  };
  for (let from = 0; from < bytes.length; ) {
    const line = packedLineAt(bytes, from);
    const { kind, detail, id, reason, at, end, idIsText } = line;
    lines.push(line);
    begins.push(text.length + reader.end);
    const model = models.get(line.model) ?? null;
    const idText = (): string =>
      unpackId(idIsText ? bytes.toString("utf8", id, reason) : bytes.subarray(id, reason));
    const known = (): Known => ({
      model,
      at: instantOf(bytes.toString("utf8", at, end)),
      personId: kinds.get(kind)?.personId ?? null,
      subjectId: idText(),
    });
    try {
      appendDetail(reader, [bytes, detail, id], known, model);
    } catch {
      // Somebody changed it from outside, which verify names.
    }
    reader.appendBytes(END_OF_LINE);
    if (idIsText) reader.appendBytes(bytes, id, reason);
    else if (withIds) reader.appendBytes(Buffer.from(idText(), "utf8"));
    reader.appendBytes(END_OF_LINE);
    reader.appendBytes(bytes, reason, at);
    reader.appendBytes(END_OF_LINE);
    if (reader.end > ROOM / 2) flush();
    from = end;
  }
  flush();
  return { lines, begins, text };
}

function kindsIn(db: ReadableDb): Kind[] {
  return all(db, `SELECT id, person_id AS "personId", act, subject FROM audit_kind`) as unknown as Kind[];
}

/** Numbers of the lines of a window in which every word may be found, newest first. */
function mayHold(
  { lines, begins, text }: ReturnType<typeof textsOf>,
  words: readonly Word[],
  ofKinds: readonly ReadonlySet<number>[],
): number[] {
  const inText = words.map((word) => word.linesIn(text, begins));
  return lines
    .filter(({ kind }, i) => words.every((_, n) => ofKinds[n]?.has(kind) || inText[n]?.has(i)))
    .map(({ sequence }) => sequence)
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
  const allKinds = kindsIn(db);
  const isNobodys =
    wanted.personId !== null && !allKinds.some(({ personId }) => personId === wanted.personId);
  if (isNobodys) return [];
  const { sql, bound } = conditionsOf(wanted, allKinds);
  const words = wanted.words
    .split(/\s+/)
    .filter(Boolean)
    .map((word) => new Word(word));
  const searched: Searched = {
    kinds: new Map(allKinds.map((kind) => [kind.id, kind])),
    models: new Map(
      all(db, "SELECT id, text FROM audit_model").map(({ id, text }) => [Number(id), String(text)]),
    ),
    reader: new CopiesReader(ROOM),
    withIds: words.some((word) => word.mayBeInId),
  };
  const ofKinds = words.map(
    (word) =>
      new Set(
        allKinds.filter(({ act, subject }) => word.isIn(act) || word.isIn(subject)).map(({ id }) => id),
      ),
  );
  const yieldToEvents = createYielder();
  const found: TrailLine[] = [];
  let end = before ?? lastSequence(db) + 1;
  while (end > 1 && found.length < count) {
    const after = Math.max(0, end - WINDOW - 1);
    const texts = textsOf(db, sql, { ...bound, after, before: end }, searched);
    for (const sequence of mayHold(texts, words, ofKinds)) {
      if (found.length >= count) break;
      const row = one(db, `SELECT ${LINE} FROM ${LINES} WHERE a.sequence = ?`, sequence);
      const line = row && TrailLine.parse(lineOf(row));
      if (line && words.every((word) => word.isInLine(line))) found.push(line);
    }
    end = after + 1;
    await yieldToEvents();
  }
  return found;
}
