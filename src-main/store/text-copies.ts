/*
 * A short text as pieces copied from texts that are known when it is read: bytes of UTF-8. A piece is
 * - `0nnnnnnn`: n + 1 bytes of its own follow;
 * - `1nnnnnnn` and a place: n + 4 bytes are copied from there (n = 127: two bytes with n - 127 stand before the place).
 * A place is one byte `0ddddddd`, d - 64 away from where the copy before it ended plus what was said between, or
 * `1ppppppp pppppppp`, a place from the beginning. What is known: the model, then what the line says besides.
 */

const SHORTEST = 4;
const LONGEST_OF_ONE_BYTE = 126;
const MOST_OWN = 128;
const MOST_KNOWN = 1 << 15;
const NEAR = 64;
const TRIES = 12;
const BUCKETS = 4096;
const NO_TEXT = "these bytes make no text";
const NOTHING = new Uint8Array();

/** A text to copy from, with where each four bytes of it stand. */
interface IndexedText {
  readonly bytes: Buffer;
  /** Places of the model by the four bytes that stand there, the last first; -1 ends. */
  readonly newest: Int16Array;
  readonly earlier: Int16Array;
}

const bucketOf = (bytes: Uint8Array, at: number): number =>
  (Math.imul(
    ((bytes[at] ?? 0) << 24) |
      ((bytes[at + 1] ?? 0) << 16) |
      ((bytes[at + 2] ?? 0) << 8) |
      (bytes[at + 3] ?? 0),
    0x9e3779b1,
  ) >>>
    20) %
  BUCKETS;

/** So many of each are used at a time: every sheet brings models of its own, and those of earlier ones rest. */
const MOST_KEPT = 32;
const MOST_INDEXED = 16;
const kept = new Map<string, Buffer>();
const indexed = new Map<string, IndexedText>();

/** What is made of a text, made once while it is used again and again; all of it goes when there is too much. */
function once<T>(made: Map<string, T>, most: number, text: string, make: (text: string) => T): T {
  const found = made.get(text);
  if (found !== undefined) return found;
  const value = make(text);
  if (made.size >= most) made.clear();
  made.set(text, value);
  return value;
}

/** In room of their own: short ones would else hold on to the room that others shared with them. */
function bytesOf(text: string): Buffer {
  const bytes = Buffer.allocUnsafeSlow(Buffer.byteLength(text, "utf8"));
  bytes.write(text, "utf8");
  return bytes.subarray(0, MOST_KNOWN);
}

/** An index takes several times the room of its text; reading needs none. */
function indexOf(text: string): IndexedText {
  const bytes = bytesOf(text);
  const newest = new Int16Array(BUCKETS).fill(-1);
  const earlier = new Int16Array(bytes.length).fill(-1);
  for (let at = 0; at + SHORTEST <= bytes.length; at += 1) {
    const bucket = bucketOf(bytes, at);
    earlier[at] = newest[bucket] ?? -1;
    newest[bucket] = at;
  }
  return { bytes, newest, earlier };
}

/** Where whole texts that are known stand in another, with their place behind the model. */
function wholePlaces(bytes: Buffer, texts: readonly string[], from: number): Map<number, [number, number]> {
  const places = new Map<number, [number, number]>();
  let place = from;
  for (const text of texts) {
    const { length } = Buffer.from(text, "utf8");
    if (length >= SHORTEST && place + length <= MOST_KNOWN) {
      for (let at = bytes.indexOf(text); at >= 0; at = bytes.indexOf(text, at + length)) {
        places.set(at, [place, length]);
      }
    }
    place += length;
  }
  return places;
}

/** The longest piece of the model that stands at a place of the text. @returns place and length */
function longestPiece(
  bytes: Buffer,
  at: number,
  { bytes: model, newest, earlier }: IndexedText,
): [number, number] {
  let [best, longest] = [-1, 0];
  if (at + SHORTEST > bytes.length) return [best, longest];
  let place = newest[bucketOf(bytes, at)] ?? -1;
  for (let tries = 0; place >= 0 && tries < TRIES; tries += 1) {
    let length = 0;
    while (at + length < bytes.length && bytes[at + length] === model[place + length]) length += 1;
    if (length > longest) [best, longest] = [place, length];
    place = earlier[place] ?? -1;
  }
  return [best, longest];
}

/** The pieces that make up a text. */
export function copiesFrom(text: string, model: string, texts: readonly string[]): Buffer {
  const bytes = Buffer.from(text, "utf8");
  const known = once(indexed, MOST_INDEXED, model, indexOf);
  const whole = wholePlaces(bytes, texts, known.bytes.length);
  const pieces: number[] = [];
  let own = 0;
  let expected = 0;
  const sayOwn = (end: number): void => {
    while (own < end) {
      const length = Math.min(MOST_OWN, end - own);
      pieces.push(length - 1, ...bytes.subarray(own, own + length));
      own += length;
      expected += length;
    }
  };
  for (let at = 0; at < bytes.length; ) {
    const [place, length] = whole.get(at) ?? longestPiece(bytes, at, known);
    if (length < SHORTEST) {
      at += 1;
      continue;
    }
    sayOwn(at);
    const over = length - SHORTEST;
    if (over <= LONGEST_OF_ONE_BYTE) pieces.push(0x80 | over);
    else pieces.push(0xff, (over - 127) >> 8, (over - 127) & 0xff);
    const away = place - expected + NEAR;
    if (away >= 0 && away < 2 * NEAR) pieces.push(away);
    else pieces.push(0x80 | (place >> 8), place & 0xff);
    at += length;
    own = at;
    expected = place + length;
  }
  sayOwn(bytes.length);
  return Buffer.from(pieces);
}

/** Puts texts together into bytes of its own, one behind the other. */
export class CopiesReader {
  made: Buffer;
  end = 0;
  #pieces: Uint8Array = new Uint8Array();
  #at = 0;
  #to = 0;
  #expected = 0;

  constructor(size: number) {
    this.made = Buffer.alloc(size);
  }

  /** Appends bytes as they are, all or those from one place to another. */
  appendBytes(bytes: Uint8Array, from = 0, to = bytes.length): void {
    if (this.end + to - from > this.made.length) {
      this.made = Buffer.concat([this.made, Buffer.alloc(this.made.length + to - from)]);
    }
    for (let at = from; at < to; at += 1) this.made[this.end++] = bytes[at] ?? 0;
  }

  /** Appends the text that pieces from one place to another make up; `behind` are the bytes after the model. @throws RangeError for bytes that make none */
  append(pieces: Uint8Array, from: number, to: number, model: string, behind: () => Uint8Array): void {
    const bytes = once(kept, MOST_KEPT, model, bytesOf);
    this.#pieces = pieces;
    this.#at = from;
    this.#to = to;
    this.#expected = 0;
    while (this.#at < to) {
      const first = this.#next();
      if (first < 0x80) this.#own(first + 1);
      else this.#copied(first, bytes, behind);
    }
    if (this.#at > to) throw new RangeError(NO_TEXT);
  }

  #next(): number {
    this.#at += 1;
    return this.#pieces[this.#at - 1] ?? 0;
  }

  #own(length: number): void {
    const { made } = this;
    if (this.#at + length > this.#to || this.end + length > made.length) throw new RangeError(NO_TEXT);
    let out = this.end;
    for (let n = 0; n < length; n += 1) made[out++] = this.#pieces[this.#at + n] ?? 0;
    this.#at += length;
    this.end = out;
    this.#expected += length;
  }

  #copied(first: number, model: Uint8Array, behindModel: () => Uint8Array): void {
    const { made } = this;
    const length = SHORTEST + (first === 0xff ? 127 + ((this.#next() << 8) | this.#next()) : first & 0x7f);
    const near = this.#next();
    let place = near < 0x80 ? this.#expected + near - NEAR : ((near & 0x7f) << 8) | this.#next();
    const until = place + length;
    const behind = until > model.length ? behindModel() : NOTHING;
    if (place < 0 || until > model.length + behind.length || this.end + length > made.length) {
      throw new RangeError(NO_TEXT);
    }
    let out = this.end;
    for (; place < until; place += 1) {
      made[out++] = (place < model.length ? model[place] : behind[place - model.length]) ?? 0;
    }
    this.end = out;
    this.#expected = until;
  }
}

const reader = new CopiesReader(1 << 16);

/** The text that pieces make up. @throws RangeError for bytes that make none */
export function readCopies(pieces: Uint8Array, model: string, texts: readonly string[]): string {
  reader.end = 0;
  reader.append(pieces, 0, pieces.length, model, () => Buffer.from(texts.join(""), "utf8"));
  return reader.made.toString("utf8", 0, reader.end);
}
