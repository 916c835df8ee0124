import { CountCategory, MOST_CATEGORIES } from "../../contract/records/count-method.ts";
import { createRecordReader, delimiterOf, UnreadableText } from "../../quantity/delimited-text.ts";
import { automaticCode, categoryKeyOf, withAutomaticKeys } from "./automatic-keys.ts";
import { countsAsOfText, countsAsText } from "./counts-as.ts";
import { plainLetters } from "./find-taxon.ts";
import { keyCodeOf, keyTextOf } from "./key-text.ts";
import { sumsOfText, textOfSums } from "./sums-text.ts";

/** Columns of a list in the order in which they are written, with the headings that are read for them. */
const COLUMNS = {
  name: ["name", "taxon", "species", "category"],
  code: ["code", "abbreviation"],
  group: ["group"],
  sums: ["sums", "sum"],
  countsAs: ["counts as"],
  key: ["key"],
  enough: ["stop at"],
} as const;
type Column = keyof typeof COLUMNS;
const ORDER = Object.keys(COLUMNS) as Column[];
const HEADINGS = ["Name", "Code", "Group", "Sums", "Counts as", "Key", "Stop at"];

/** One line that is not blank: its category, or why it is refused. */
export interface ListLine {
  /** 1, 2 … as a spreadsheet numbers them. */
  readonly line: number;
  readonly name: string;
  readonly category: CountCategory | null;
  readonly refused: string | null;
}

export interface ReadList {
  readonly lines: readonly ListLine[];
  /** Headings that mean nothing here; their column is not read. */
  readonly unused: readonly string[];
}

type Cells = Readonly<Partial<Record<Column, string>>>;

function columnOf(heading: string): Column | null {
  const plain = plainLetters(heading.trim());
  return ORDER.find((column) => (COLUMNS[column] as readonly string[]).includes(plain)) ?? null;
}

/** What the first line says of the columns; null when it is no heading: then they come in their own order. */
function headingOf(record: readonly string[]): readonly (Column | null)[] | null {
  const columns = record.map(columnOf);
  return columns.includes("name") ? columns : null;
}

function cellsOf(record: readonly string[], columns: readonly (Column | null)[]): Cells {
  const cells: Partial<Record<Column, string>> = {};
  record.forEach((text, i) => {
    const column = columns[i];
    if (column) cells[column] = text.trim();
  });
  return cells;
}

class Refused extends Error {}

/** What lines before have taken. */
interface Taken {
  readonly names: Map<string, number>;
  readonly codes: Map<string, number>;
  readonly keyCodes: Map<string, number>;
  readonly keys: Set<string>;
  /** Names of groups and sums as first written, by their plain letters. */
  readonly spellings: Map<string, string>;
}

function own(taken: Map<string, number>, value: string, line: number, what: string): void {
  const before = taken.get(value);
  if (before !== undefined) throw new Refused(`${what} is on line ${before} already`);
  taken.set(value, line);
}

/** One group or sum written in two ways would be two. */
function sameSpelling(spellings: Map<string, string>, name: string): void {
  const first = spellings.get(plainLetters(name)) ?? name;
  if (first !== name) throw new Refused(`“${name}” is written “${first}” on a line before: write both alike`);
  spellings.set(plainLetters(name), name);
}

function enoughOf(text: string): Pick<CountCategory, "enough"> {
  if (text === "") return {};
  const enough = Number(text);
  if (!/^\d+$/.test(text) || enough < 1 || enough > 1_000_000) {
    throw new Refused(`“${text}” under Stop at must be a whole number of objects, 1 to 1000000`);
  }
  return { enough };
}

function keyOf(text: string): string {
  const code = keyCodeOf(text);
  if (code !== null) return code;
  throw new Refused(
    `“${text}” is no key for a category: use a digit or “.” of the keypad, a letter, or “row 7”`,
  );
}

function drafted(cells: Cells, line: number, taken: Taken, before: readonly CountCategory[]): CountCategory {
  const { name = "", code: typedCode = "", group = "" } = cells;
  if (name === "") throw new Refused("has no name");
  own(taken.names, plainLetters(name), line, `“${name}”`);
  const standing = countsAsOfText(cells.countsAs ?? "");
  if (!standing) {
    throw new Refused(
      `“${cells.countsAs}” under Counts as is not known: use total; total, halves; total, decimals; beside; beside, reported; doubtful; marker`,
    );
  }
  const same = before.find((one) => plainLetters(one.name) === plainLetters(name));
  const code = typedCode || same?.code || automaticCode(name, new Set(taken.codes.keys()));
  own(taken.codes, plainLetters(code), line, `the code ${code}`);
  const keyCode = keyOf(cells.key ?? "");
  if (keyCode !== "") own(taken.keyCodes, keyCode, line, `the key ${keyTextOf(keyCode)}`);
  const known = before.find((one) => one.code !== undefined && plainLetters(one.code) === plainLetters(code));
  const key = known?.key ?? categoryKeyOf(code, taken.keys);
  taken.keys.add(key);
  const sums = sumsOfText(cells.sums ?? "");
  for (const sum of sums) sameSpelling(taken.spellings, sum.name);
  if (group !== "") sameSpelling(taken.spellings, group);
  return {
    ...{ key, name, keyCode, ...standing, code },
    ...(group === "" ? {} : { group }),
    ...(sums.length === 0 ? {} : { sums }),
    ...enoughOf(cells.enough ?? ""),
  };
}

/** Why a category cannot be as it is, by the record's own schema and by what its kind allows. */
function problemOf(category: CountCategory): string | null {
  const { kind, sums = [], enough } = category;
  if ((kind === "marker" || kind === "doubtful") && (sums.length > 0 || enough !== undefined)) {
    return "marker spores and doubtful objects belong to no sum and have no stopping rule";
  }
  if (new Set(sums.map(({ name }) => name)).size < sums.length) return "names a sum twice";
  const { error } = CountCategory.safeParse(category);
  const issue = error?.issues[0];
  return issue ? `${String(issue.path[0] ?? "the line")} ${issue.message}` : null;
}

function lineOf(cells: Cells, line: number, taken: Taken, before: readonly CountCategory[]): ListLine {
  const name = cells.name ?? "";
  try {
    const category = drafted(cells, line, taken, before);
    const refused = problemOf(category);
    return { line, name, category: refused === null ? category : null, refused };
  } catch (error) {
    if (error instanceof Refused) return { line, name, category: null, refused: error.message };
    throw error;
  }
}

/** A comma or semicolon that not every line has belongs to a name: then there is one column. */
function delimiterIn(text: string): string {
  const delimiter = delimiterOf(`${text}\n`);
  const lines = text.split(/\r\n|\r|\n/).filter((line) => line.trim() !== "");
  return lines.every((line) => line.includes(delimiter)) ? delimiter : "\t";
}

function recordsOf(text: string): readonly (readonly string[])[] {
  const plain = text.replace(/^\uFEFF/, "");
  const reader = createRecordReader(delimiterIn(plain));
  return [...reader.read(plain), ...reader.end()];
}

/**
 * A list of categories from cells copied out of a spreadsheet or from a CSV file. A first line with a heading “Name”
 * says which column is which; without one they come as name, code, group, sums, counts as, key, stop at. Without a
 * column for keys the first categories get those of the keypad. A category without a code gets one.
 * @param before categories of the version before: the same code stays the same category under its new name
 */
export function readListText(text: string, before: readonly CountCategory[] = []): ReadList {
  let records: readonly (readonly string[])[];
  try {
    records = recordsOf(text);
  } catch (error) {
    if (!(error instanceof UnreadableText)) throw error;
    return { lines: [{ line: 1, name: "", category: null, refused: error.message }], unused: [] };
  }
  const first = records[0] ?? [];
  const heading = headingOf(first);
  const columns = heading ?? ORDER;
  const taken: Taken = {
    names: new Map(),
    codes: new Map(),
    keyCodes: new Map(),
    keys: new Set(before.map(({ key }) => key)),
    spellings: new Map(),
  };
  const lines: ListLine[] = [];
  records.forEach((record, i) => {
    if ((heading && i === 0) || record.every((cell) => cell.trim() === "")) return;
    const line = lineOf(cellsOf(record, columns), i + 1, taken, before);
    const tooMany = lines.length >= MOST_CATEGORIES && line.refused === null;
    lines.push(
      tooMany ? { ...line, category: null, refused: `a list takes ${MOST_CATEGORIES} categories` } : line,
    );
  });
  const unused = heading ? first.filter((_, i) => heading[i] === null).map((cell) => cell.trim()) : [];
  return {
    lines: columns.includes("key") && heading ? lines : withKeys(lines),
    unused: unused.filter((cell) => cell !== ""),
  };
}

function withKeys(lines: readonly ListLine[]): readonly ListLine[] {
  const keyed = withAutomaticKeys(lines.flatMap(({ category }) => category ?? []));
  let next = 0;
  return lines.map((line) => (line.category ? { ...line, category: keyed[next++] ?? null } : line));
}

function cell(text: string): string {
  return /["\t]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A list as a spreadsheet takes it, tab-separated under its headings; `readListText` reads it back. */
export function listText(categories: readonly CountCategory[]): string {
  const lines = categories.map((one) =>
    [
      one.name,
      one.code ?? one.key,
      one.group ?? "",
      textOfSums(one.sums ?? []),
      countsAsText(one),
      keyTextOf(one.keyCode),
      one.enough === undefined ? "" : String(one.enough),
    ]
      .map(cell)
      .join("\t"),
  );
  return [HEADINGS.join("\t"), ...lines, ""].join("\n");
}
