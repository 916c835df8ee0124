/** A cell may hold this much; readings and labels are far shorter, and notes at most 4,000. */
const LONGEST_CELL = 32_767;

export class UnreadableText extends Error {}

/**
 * Records of delimited text by RFC 4180: quoted fields may hold delimiters, doubled quotes and line breaks; lines end
 * with CR LF, LF or CR. Fed in pieces of any length, so that a long file never stands in memory twice.
 */
export function createRecordReader(delimiter: string): {
  /** @throws UnreadableText when a field is too long */
  read(piece: string): string[][];
  /** The last record, when the text does not end with a line break. @throws UnreadableText when a quote stays open */
  end(): string[][];
} {
  let field = "";
  let record: string[] = [];
  let state: "bare" | "quoted" | "after-quote" = "bare";
  let begun = false;
  let afterReturn = false;
  let line = 1;
  let done: string[][] = [];

  function endField(): void {
    record.push(field);
    field = "";
    state = "bare";
  }

  function endRecord(): void {
    endField();
    done.push(record);
    record = [];
    begun = false;
    line += 1;
  }

  function add(character: string): void {
    if (field.length >= LONGEST_CELL) throw new UnreadableText(`line ${line} has a cell that never ends`);
    field += character;
  }

  function takeOutside(character: string): void {
    if (character === delimiter) endField();
    else if (character === "\n" || character === "\r") endRecord();
    else if (character === '"' && state === "bare" && field === "") state = "quoted";
    // A quote inside a bare field, or text behind a closing quote, is kept: nothing typed is dropped.
    else add(character);
  }

  function take(character: string): void {
    if (state === "quoted") {
      if (character === '"') state = "after-quote";
      else add(character);
      return;
    }
    if (state === "after-quote" && character === '"') {
      add('"');
      state = "quoted";
      return;
    }
    takeOutside(character);
  }

  function drain(): string[][] {
    const out = done;
    done = [];
    return out;
  }

  return {
    read(piece) {
      for (const character of piece) {
        const second = afterReturn && character === "\n" && state !== "quoted";
        afterReturn = character === "\r" && state !== "quoted";
        if (second) continue;
        const before = done.length;
        take(character);
        begun = done.length === before;
      }
      return drain();
    },
    end() {
      if (state === "quoted") throw new UnreadableText("a quotation mark is opened and never closed");
      if (begun) endRecord();
      return drain();
    },
  };
}

const CANDIDATES = ["\t", ";", ","] as const;

/** The delimiter that the first lines use most evenly; a tab before a semicolon before a comma. */
export function delimiterOf(beginning: string): string {
  const lines = beginning.split(/\r\n|\r|\n/).filter((one) => one !== "");
  // The last line may be cut off.
  const whole = lines.length > 1 ? lines.slice(0, -1) : lines;
  for (const candidate of CANDIDATES) {
    const counts = whole.slice(0, 20).map((one) => one.replace(/"[^"]*"/g, "").split(candidate).length - 1);
    if (counts.length > 0 && counts.every((count) => count > 0)) return candidate;
  }
  return CANDIDATES.find((candidate) => beginning.includes(candidate)) ?? ",";
}
