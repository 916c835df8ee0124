import { deflateRawSync, inflateRawSync } from "node:zlib";
import { Query } from "./sql.ts";
import { type CopiesReader, copiesFrom, readCopies } from "./text-copies.ts";

/*
 * How a line of the trail is kept: identifiers and instants as bytes and numbers, its detail as what differs from a
 * model, a text of the same kind kept once. The text that was hashed comes back byte for byte. Benches in use are
 * written so: what is read by a tag is never changed, a new way gets a new tag.
 */

const PLAIN = 0;
const COPIED = 1;
const DEFLATED = 2;
const LONG_TEXT = 3000;

/** What else is known of a line when its detail is read: the detail often says it again. */
export interface Known {
  readonly model: string | null;
  readonly at: string;
  readonly personId: string | null;
  readonly subjectId: string;
}

const said = ({ at, personId, subjectId }: Known): string[] => [personId ?? "", subjectId, at];

const dictionaryOf = (known: Known): Buffer =>
  Buffer.from(`${known.model ?? ""}${said(known).join("")}`, "utf8");

/** The detail of a line as a tag and bytes. */
export function packDetail(text: string, known: Known): Buffer {
  const isLong = text.length > LONG_TEXT;
  const packed = isLong
    ? deflateRawSync(text, { dictionary: dictionaryOf(known) })
    : copiesFrom(text, known.model ?? "", said(known));
  const plain = Buffer.from(text, "utf8");
  if (packed.length >= plain.length) return Buffer.concat([Buffer.of(PLAIN), plain]);
  return Buffer.concat([Buffer.of(isLong ? DEFLATED : COPIED), packed]);
}

/** The detail as it was hashed. @throws Error for bytes that nobody packed */
export function unpackDetail(packed: Uint8Array, known: Known): string {
  const body = packed.subarray(1);
  if (packed[0] === COPIED) return readCopies(body, known.model ?? "", said(known));
  if (packed[0] === PLAIN) return Buffer.from(body).toString("utf8");
  if (packed[0] !== DEFLATED) throw new Error(`no text is packed as ${packed[0]}`);
  return inflateRawSync(body, { dictionary: dictionaryOf(known) }).toString("utf8");
}

/** The same, among many others in one piece of bytes, from one place to another: put behind what was read before. */
export function appendDetail(
  reader: CopiesReader,
  [packed, from, to]: readonly [Uint8Array, number, number],
  known: () => Known,
  model: string | null,
): void {
  if (packed[from] !== COPIED) {
    reader.appendBytes(Buffer.from(unpackDetail(packed.subarray(from, to), known()), "utf8"));
    return;
  }
  const behind = (): Buffer => Buffer.from(said(known()).join(""), "utf8");
  reader.append(packed, from + 1, to, model ?? "", behind);
}

/** The newest model of a kind of lines. */
export interface Model {
  readonly number: number;
  /** The line it was made at. */
  readonly sequence: number;
  readonly text: string;
}

const FIRST_MODELS = 4;
const LINES_BETWEEN_MODELS = 256;
const LONGEST_IN_MODEL = 1000;
const LONGEST_MODEL = 2000;
const SMALL = 40;
const SMALL_SHARE = 1 / 8;

/** Whether a line, packed by its kind's newest model, is unlike enough to become part of the next one. */
export function isUnlike(
  { sequence, detail }: { readonly sequence: number; readonly detail: string },
  packed: Uint8Array,
  model: Model | null,
): boolean {
  if (detail.length > LONGEST_IN_MODEL) return false;
  if (model === null) return true;
  const mayFollow = model.number < FIRST_MODELS || sequence - model.sequence >= LINES_BETWEEN_MODELS;
  return mayFollow && packed.length > Math.max(SMALL, detail.length * SMALL_SHARE);
}

/** The next model: the end of the one before, and the text of the line it is made at. */
export function nextModelText(before: string | null, detail: string): string {
  return `${before ?? ""}${detail}`.slice(-LONGEST_MODEL).toWellFormed();
}

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** An identifier as it is kept: the 16 bytes of a UUID, any other as its text. */
export function packId(id: string): Buffer | string {
  return UUID.test(id) ? Buffer.from(id.replaceAll("-", ""), "hex") : id;
}

export function unpackId(kept: unknown): string {
  if (!(kept instanceof Uint8Array)) return String(kept);
  const hex = Buffer.from(kept).toString("hex");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

const UUID_GLOB = [8, 4, 4, 4, 12].map((digits) => "[0-9a-f]".repeat(digits)).join("-");

/** SQL of `packId`, of a column. */
export const packedIdSql = (column: string): Query =>
  new Query(`iif(${column} GLOB '${UUID_GLOB}', unhex(replace(${column}, '-', '')), ${column})`);

/** SQL of `unpackId`, of a column. */
export function idTextSql(column: string): Query {
  const part = (from: number, digits: number): string => `substr(hex(${column}), ${from}, ${digits})`;
  const parts = [part(1, 8), part(9, 4), part(13, 4), part(17, 4), part(21, 12)];
  return new Query(`iif(typeof(${column}) = 'blob', lower(${parts.join(" || '-' || ")}), ${column})`);
}

/** An instant as it is kept: milliseconds since 1970 (a bigint, which SQLite takes for an integer), or its text where these would not give the same text. */
export function packInstant(at: string): bigint | string {
  const ms = Date.parse(at);
  return Number.isFinite(ms) && new Date(ms).toISOString() === at ? BigInt(ms) : at;
}

export function unpackInstant(kept: unknown): string {
  return typeof kept === "number" && Math.abs(kept) <= 8.64e15 ? new Date(kept).toISOString() : String(kept);
}

/** SQL of a line's hash as text, in benches of any version. */
export const HASH_TEXT_SQL = "iif(typeof(hash) = 'blob', lower(hex(hash)), hash)";
