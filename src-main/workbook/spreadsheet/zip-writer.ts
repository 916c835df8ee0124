import { once } from "node:events";
import type { Writable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { crc32, createDeflateRaw } from "node:zlib";

/** PKWARE APPNOTE 6.3.10 (2022): 4.3.7 local header, 4.3.9 data descriptor, 4.3.12 directory, 4.3.16 its end. */
const SIGNATURES = {
  local: 0x04034b50,
  descriptor: 0x08074b50,
  directory: 0x02014b50,
  end: 0x06054b50,
} as const;
/** 4.4.4: bit 3, sizes stand behind the data; bit 11, names are UTF-8. */
const FLAGS = 0x0808;
const VERSION = 20;
const DEFLATED = 8;
/** Texts are small; a workbook is packed while somebody waits. */
const LEVEL = 1;
/** Text is handed to the packer in pieces of about so many characters. */
const PIECE = 64 * 1024;
/** So many characters may wait for the packer before a writer should wait as well. */
const MOST_WAITING = 4 * PIECE;
/** 4.4.1.4: what 32 bits hold; a workbook stays far below. */
const LARGEST = 0xffff_ffff;

interface Written {
  readonly name: Buffer;
  readonly offset: number;
  checksum: number;
  size: number;
  packed: number;
}

/** One part of the file being filled. What is written waits here until the parts before it are packed. */
export class ZipPart {
  readonly name: string;
  readonly #pieces: (string | Buffer)[] = [];
  #text = "";
  #waiting = 0;
  #ended = false;
  #arrived = Promise.withResolvers<void>();
  #emptied = Promise.withResolvers<void>();

  constructor(name: string) {
    this.name = name;
  }

  write(data: string | Buffer): void {
    if (typeof data === "string") {
      this.#text += data;
      if (this.#text.length >= PIECE) this.#handOver();
      return;
    }
    this.#handOver();
    this.#push(data);
  }

  end(): void {
    this.#handOver();
    this.#ended = true;
    this.#arrived.resolve();
  }

  /** True when the packer is so far behind that a writer should wait for `roomAgain`. */
  get isFull(): boolean {
    return this.#waiting > MOST_WAITING;
  }

  /** Resolves when the packer has taken what was waiting. */
  async roomAgain(): Promise<void> {
    if (this.isFull) await this.#emptied.promise;
  }

  /** Everything written, in order, until the part ends. */
  async *pieces(): AsyncGenerator<Buffer> {
    for (;;) {
      for (let piece = this.#pieces.shift(); piece !== undefined; piece = this.#pieces.shift()) {
        this.#waiting -= piece.length;
        yield typeof piece === "string" ? Buffer.from(piece) : piece;
      }
      this.#emptied.resolve();
      this.#emptied = Promise.withResolvers();
      if (this.#ended && this.#pieces.length === 0) return;
      await this.#arrived.promise;
      if (!this.#ended) this.#arrived = Promise.withResolvers();
    }
  }

  #handOver(): void {
    if (this.#text !== "") this.#push(this.#text);
    this.#text = "";
  }

  #push(piece: string | Buffer): void {
    this.#pieces.push(piece);
    this.#waiting += piece.length;
    this.#arrived.resolve();
  }
}

/** Packs parts one after the other into a stream, in bounded memory. */
export class ZipWriter {
  readonly #out: Writable;
  readonly #time: Buffer;
  readonly #written: Written[] = [];
  #offset = 0;
  #packing: Promise<void> = Promise.resolve();

  /** @param at date and time of every part; read in UTC, so that the same records give the same bytes everywhere */
  constructor(out: Writable, at: Date) {
    this.#out = out;
    this.#time = dosTime(at);
  }

  /** Begins a part; it is packed as soon as the parts begun before it have ended. */
  open(name: string): ZipPart {
    const part = new ZipPart(name.replace(/^\//, ""));
    this.#packing = this.#packing.then(() => this.#pack(part));
    // A failure is told by `finish`.
    this.#packing.catch(() => undefined);
    return part;
  }

  add(name: string, data: string | Buffer): void {
    const part = this.open(name);
    part.write(data);
    part.end();
  }

  /**
   * Waits for the parts, writes the directory and ends the stream.
   * @throws Error of the stream; RangeError when the file is larger than a plain zip file can be
   */
  async finish(): Promise<void> {
    await this.#packing;
    const from = this.#offset;
    for (const entry of this.#written) await this.#put(directoryEntry(entry, this.#time));
    await this.#put(endOfDirectory(this.#written.length, this.#offset - from, from));
    this.#out.end();
  }

  async #pack(part: ZipPart): Promise<void> {
    const entry: Written = {
      name: Buffer.from(part.name),
      offset: this.#offset,
      checksum: 0,
      size: 0,
      packed: 0,
    };
    await this.#put(localHeader(entry, this.#time));
    await pipeline(
      async function* measured() {
        for await (const piece of part.pieces()) {
          entry.checksum = crc32(piece, entry.checksum);
          entry.size += piece.length;
          yield piece;
        }
      },
      createDeflateRaw({ level: LEVEL }),
      async (packed: AsyncIterable<Buffer>) => {
        for await (const piece of packed) {
          entry.packed += piece.length;
          await this.#put(piece);
        }
      },
    );
    await this.#put(fields([4, SIGNATURES.descriptor], ...sizesOf(entry)));
    this.#written.push(entry);
  }

  async #put(bytes: Buffer): Promise<void> {
    this.#offset += bytes.length;
    if (this.#offset > LARGEST) throw new RangeError("The workbook would be larger than 4 GB.");
    if (!this.#out.write(bytes)) await once(this.#out, "drain");
  }
}

type Field = readonly [bytes: 2 | 4, value: number];

/** Numbers of two or four bytes, the lowest byte first (4.4.1.1). */
function fields(...list: readonly Field[]): Buffer {
  const buffer = Buffer.alloc(list.reduce((length, [bytes]) => length + bytes, 0));
  let at = 0;
  for (const [bytes, value] of list) at = buffer.writeUIntLE(value, at, bytes);
  return buffer;
}

/** 4.4.6: two seconds, minutes and hours; day, month and years since 1980. */
function dosTime(at: Date): Buffer {
  const time = (at.getUTCHours() << 11) | (at.getUTCMinutes() << 5) | (at.getUTCSeconds() >> 1);
  const years = Math.min(127, Math.max(0, at.getUTCFullYear() - 1980));
  return fields([2, time], [2, (years << 9) | ((at.getUTCMonth() + 1) << 5) | at.getUTCDate()]);
}

function sizesOf({ checksum, packed, size }: Written): Field[] {
  return [
    [4, checksum],
    [4, packed],
    [4, size],
  ];
}

function localHeader({ name }: Written, time: Buffer): Buffer {
  const start = fields([4, SIGNATURES.local], [2, VERSION], [2, FLAGS], [2, DEFLATED]);
  const rest = fields([4, 0], [4, 0], [4, 0], [2, name.length], [2, 0]);
  return Buffer.concat([start, time, rest, name]);
}

function directoryEntry(entry: Written, time: Buffer): Buffer {
  const start = fields([4, SIGNATURES.directory], [2, VERSION], [2, VERSION], [2, FLAGS], [2, DEFLATED]);
  const noMore: Field[] = [
    [2, 0],
    [2, 0],
    [2, 0],
    [2, 0],
    [4, 0],
  ];
  const rest = fields(...sizesOf(entry), [2, entry.name.length], ...noMore, [4, entry.offset]);
  return Buffer.concat([start, time, rest, entry.name]);
}

function endOfDirectory(entries: number, length: number, from: number): Buffer {
  const counts: Field[] = [
    [2, entries],
    [2, entries],
  ];
  return fields([4, SIGNATURES.end], [2, 0], [2, 0], ...counts, [4, length], [4, from], [2, 0]);
}
