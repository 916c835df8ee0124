import { columns } from "../columns.ts";
import type { ReadableDb } from "../connection.ts";
import { type Query, sql } from "../sql.ts";
import { CopiesReader } from "../text-copies.ts";
import { appendDetail, type Known, unpackId, unpackInstant } from "../trail-packing.ts";

/** Lines of one window: read together, and kept together. */
export const WINDOW = 4000;
/** Room for the texts of many lines, bytes. */
const ROOM = 1 << 21;
/** What all kept windows of a bench may take together, characters: the trail of some years. */
const MOST_KEPT = 1 << 26;
const END_OF_LINE = Buffer.from("\n");

/** Person, act and subject of a line. */
export type Kind = ReturnType<typeof kindOf>;
export const kindOf = columns({ id: "number", personId: "text?", act: "text", subject: "text" });

/** Bytes of UTF-8 as characters, capitals made small: what only looks alike is sorted out when the line is read. */
export const folded = (bytes: Buffer): string => bytes.toString("latin1").toLowerCase();

/** What stands before the texts of a line, and these: detail, identifier, reason, instant. */
const packedLines = (after: number, last: number): Query => sql`SELECT CAST(group_concat(
    printf('%d %d %d %d %d %d %d %d ', a.sequence, a.kind, a.model, octet_length(a.detail),
    octet_length(a.subject_id),
      typeof(a.subject_id) = 'text', octet_length(a.reason), octet_length(a.at))
    || a.detail || a.subject_id || coalesce(a.reason, '') || a.at, '') AS BLOB) AS bytes
  FROM audit_line a NOT INDEXED WHERE a.sequence > ${after} AND a.sequence <= ${last}`;
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
export interface Searched {
  readonly kinds: ReadonlyMap<number, Kind>;
  readonly models: ReadonlyMap<number, string>;
  readonly reader: CopiesReader;
  /** A word may be part of an identifier, hexadecimal digits that are kept as bytes. */
  readonly withIds: boolean;
}

/** The lines of a window, in their order, and all their texts put together and folded. */
export interface WindowTexts {
  readonly sequences: readonly number[];
  readonly kinds: readonly number[];
  /** As stored: ms since 1970, or the text of an instant that is none in ms. */
  readonly instants: readonly (number | string)[];
  /** Where the text of each line begins. */
  readonly begins: readonly number[];
  readonly text: string;
}

/** They come from the file as one piece of bytes: a row of its own for each line takes longer than all else together. */
function readTexts(
  db: ReadableDb,
  after: number,
  { kinds: known, models, reader, withIds }: Searched,
): WindowTexts {
  const row = packedLines(after, after + WINDOW).one(db);
  const bytes = (row?.bytes ?? END_OF_LINE.subarray(1)) as Buffer;
  let text = "";
  const begins: number[] = [];
  const sequences: number[] = [];
  const kinds: number[] = [];
  const instants: (number | string)[] = [];
  const flush = (): void => {
    text += folded(reader.made.subarray(0, reader.end));
    reader.end = 0;
  };
  for (let from = 0; from < bytes.length; ) {
    const line = packedLineAt(bytes, from);
    const { kind, detail, id, reason, at, end, idIsText } = line;
    const instant = bytes.toString("utf8", at, end);
    sequences.push(line.sequence);
    kinds.push(kind);
    instants.push(/^-?\d+$/.test(instant) ? Number(instant) : instant);
    begins.push(text.length + reader.end);
    const model = models.get(line.model) ?? null;
    const idText = (): string =>
      unpackId(idIsText ? bytes.toString("utf8", id, reason) : bytes.subarray(id, reason));
    const besides = (): Known => ({
      model,
      at: unpackInstant(instants.at(-1)),
      personId: known.get(kind)?.personId ?? null,
      subjectId: idText(),
    });
    try {
      appendDetail(reader, [bytes, detail, id], besides, model);
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
  return { sequences, kinds, instants, begins, text };
}

interface Kept {
  readonly windows: Map<string, WindowTexts>;
  characters: number;
}

/** By the connection: a bench that was restored has another. */
const keptOf = new WeakMap<ReadableDb, Kept>();

function keptBy(db: ReadableDb): Kept {
  const kept = keptOf.get(db) ?? { windows: new Map<string, WindowTexts>(), characters: 0 };
  keptOf.set(db, kept);
  return kept;
}

const keyOf = (after: number, { withIds }: Searched): string => `${after} ${withIds}`;

/**
 * The texts of the window that follows the line `after`. A full window never changes, since the trail only grows: its texts
 * are kept for the next search, as many as there is room for. A line that is found is read again from the file.
 */
export function textsOfWindow(db: ReadableDb, after: number, searched: Searched): WindowTexts {
  const kept = keptBy(db);
  const key = keyOf(after, searched);
  const found = kept.windows.get(key);
  if (found) return found;
  const read = readTexts(db, after, searched);
  const isFull = read.sequences.length === WINDOW;
  if (isFull && kept.characters + read.text.length <= MOST_KEPT) {
    kept.windows.set(key, read);
    kept.characters += read.text.length;
  }
  return read;
}

/** Reads a full window to be kept. @returns false where there is no room for it */
export function keepWindow(db: ReadableDb, after: number, searched: Searched): boolean {
  textsOfWindow(db, after, searched);
  return keptBy(db).windows.has(keyOf(after, searched));
}

/** What a search begins with. @param withIds a word may be part of an identifier */
export function beginSearch(db: ReadableDb, kinds: readonly Kind[], withIds: boolean): Searched {
  return {
    kinds: new Map(kinds.map((kind) => [kind.id, kind])),
    models: new Map(
      sql`SELECT id, text FROM audit_model`.all(db, ({ id, text }) => [Number(id), String(text)]),
    ),
    reader: new CopiesReader(ROOM),
    withIds,
  };
}
