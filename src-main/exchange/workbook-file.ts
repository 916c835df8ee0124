import { type FileHandle, open } from "node:fs/promises";
import { setImmediate } from "node:timers/promises";
import { BadZip, unpack, type ZipEntry, zipDirectory } from "../workbook/spreadsheet/zip-entries.ts";
import { attribute, BadXml, createXmlReader, type XmlEvents } from "./xml-reader.ts";

/** What a workbook from outside may be; beyond it the file is refused rather than the memory filled. */
export const LIMITS = {
  /** Unpacked bytes of any one part. */
  part: 768 * 1024 * 1024,
  /** Unpacked bytes of the lists that say what the parts are. */
  list: 8 * 1024 * 1024,
  text: 1_000_000,
  textCount: 2_000_000,
  /** Characters of all shared texts together. */
  texts: 48 * 1024 * 1024,
  worksheets: 400,
  cells: 8_000_000,
  columns: 16_384,
} as const;

export class UnreadableWorkbook extends Error {}

export interface FoundCell {
  /** 1-based. */
  readonly row: number;
  readonly column: number;
  /** Without `=`; null for a plain value, empty where the file shares the formula of another cell. */
  readonly formula: string | null;
  readonly value: string | number | boolean | null;
}

export interface WorkbookFile {
  readonly worksheets: readonly string[];
  /** Cells in the order of the file, a piece at a time. @throws UnreadableWorkbook */
  cells(worksheet: string): AsyncGenerator<readonly FoundCell[]>;
  close(): Promise<void>;
}

/** Text as a shared string carries it: `_xHHHH_` is a character (ECMA-376 Part 1, 22.9.2.19 ST_Xstring). */
function plainText(text: string): string {
  if (!text.includes("_x")) return text;
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  );
}

/** `C12` as column 3. */
function columnOf(reference: string): number {
  let column = 0;
  for (const character of reference.toUpperCase()) {
    const code = character.charCodeAt(0);
    if (code < 65 || code > 90) break;
    column = column * 26 + code - 64;
  }
  return column;
}

async function* textPieces(file: FileHandle, entry: ZipEntry, most: number): AsyncGenerator<string> {
  const decoder = new TextDecoder("utf-8", { fatal: true });
  for await (const piece of unpack(file, entry, most)) {
    yield decoder.decode(piece, { stream: true });
    await setImmediate();
  }
  yield decoder.decode();
}

async function readPart(
  file: FileHandle,
  entry: ZipEntry | undefined,
  most: number,
  events: XmlEvents,
): Promise<void> {
  if (entry === undefined) return;
  const reader = createXmlReader(events);
  for await (const piece of textPieces(file, entry, most)) reader.read(piece);
}

function tooMuchText(): UnreadableWorkbook {
  return new UnreadableWorkbook("it holds more text than this program takes in");
}

async function sharedTexts(file: FileHandle, entry: ZipEntry | undefined): Promise<string[]> {
  const texts: string[] = [];
  let characters = 0;
  let inText = false;
  let phonetic = false;
  let current = "";
  await readPart(file, entry, LIMITS.part, {
    open(name) {
      if (name === "si") current = "";
      if (name === "rPh") phonetic = true;
      inText = name === "t" && !phonetic;
    },
    close(name) {
      if (name === "t") inText = false;
      if (name === "rPh") phonetic = false;
      if (name !== "si") return;
      if (texts.length >= LIMITS.textCount) throw tooMuchText();
      texts.push(plainText(current));
    },
    text(text) {
      if (!inText) return;
      characters += text.length;
      if (characters > LIMITS.texts) throw tooMuchText();
      current += text;
    },
  });
  return texts;
}

/** Names of the worksheets with the relation each is stored under. */
async function worksheetsOf(
  file: FileHandle,
  parts: ReadonlyMap<string, ZipEntry>,
): Promise<Map<string, ZipEntry>> {
  const targets = new Map<string, string>();
  await readPart(file, parts.get("xl/_rels/workbook.xml.rels"), LIMITS.list, {
    open(name, tag) {
      if (name === "Relationship") targets.set(attribute(tag, "Id") ?? "", attribute(tag, "Target") ?? "");
    },
    close() {},
    text() {},
  });
  const sheets = new Map<string, ZipEntry>();
  await readPart(file, parts.get("xl/workbook.xml"), LIMITS.list, {
    open(name, tag) {
      if (name !== "sheet" || sheets.size >= LIMITS.worksheets) return;
      const target = targets.get(attribute(tag, "id") ?? "")?.replace(/^\/?(?:xl\/)?/, "xl/");
      const entry = target === undefined ? undefined : parts.get(target);
      if (entry !== undefined) sheets.set(attribute(tag, "name") ?? "", entry);
    },
    close() {},
    text() {},
  });
  return sheets;
}

/** Collects the cells of one worksheet as its XML goes by. */
function cellCollector(texts: readonly string[]): XmlEvents & { take(): FoundCell[] } {
  let found: FoundCell[] = [];
  let count = 0;
  let row = 0;
  let column = 0;
  let type = "n";
  let formula: string | null = null;
  let raw: string | null = null;
  let into: "formula" | "value" | null = null;

  function cellValue(): FoundCell["value"] {
    if (raw === null) return null;
    if (type === "s") return texts[Number(raw)] ?? "";
    if (type === "str" || type === "inlineStr") return plainText(raw);
    if (type === "b") return raw === "1";
    if (type === "e" || type === "d") return raw;
    // Some programs save a formula with an empty value.
    if (raw.trim() === "") return null;
    const number = Number(raw);
    return Number.isFinite(number) ? number : raw;
  }

  function endCell(): void {
    const value = cellValue();
    if (value === null && formula === null) return;
    count += 1;
    if (count > LIMITS.cells) throw new UnreadableWorkbook("it has more cells than this program takes in");
    found.push({ row, column, formula, value });
  }

  return {
    open(name, tag) {
      if (name === "row") {
        row = Number(attribute(tag, "r") ?? row + 1);
        column = 0;
      } else if (name === "c") {
        const reference = attribute(tag, "r");
        column = reference === null ? column + 1 : columnOf(reference);
        if (column > LIMITS.columns) throw new UnreadableWorkbook("it has too many columns");
        type = attribute(tag, "t") ?? "n";
        formula = null;
        raw = null;
      } else if (name === "f") {
        formula = "";
        into = "formula";
      } else if (name === "v" || name === "t") {
        raw ??= "";
        into = "value";
      }
    },
    close(name) {
      if (name === "c") endCell();
      else if (name === "f" || name === "v" || name === "t") into = null;
    },
    text(text) {
      if (into === "formula") formula = (formula ?? "") + text;
      else if (into === "value") raw = (raw ?? "") + text;
      if ((formula ?? "").length + (raw ?? "").length > LIMITS.text) throw tooMuchText();
    },
    take() {
      const out = found;
      found = [];
      return out;
    },
  };
}

function inWords(error: unknown): unknown {
  if (error instanceof BadZip || error instanceof BadXml) return new UnreadableWorkbook(error.message);
  if (error instanceof TypeError) return new UnreadableWorkbook("its text is not UTF-8");
  return error;
}

/**
 * Opens a workbook from anywhere: nothing in it is believed, computed, followed or kept in memory whole. Only shared
 * texts are held; worksheets go by piece by piece.
 * @throws UnreadableWorkbook; Error of the file system
 */
export async function openWorkbookFile(path: string): Promise<WorkbookFile> {
  const file = await open(path, "r");
  try {
    const parts = new Map((await zipDirectory(file)).map((entry) => [entry.name, entry]));
    const sheets = await worksheetsOf(file, parts);
    if (sheets.size === 0)
      throw new UnreadableWorkbook("it has no worksheet: it is no workbook of this kind");
    const texts = await sharedTexts(file, parts.get("xl/sharedStrings.xml"));
    return {
      worksheets: [...sheets.keys()],
      async *cells(worksheet) {
        const entry = sheets.get(worksheet);
        if (entry === undefined) return;
        const collector = cellCollector(texts);
        const reader = createXmlReader(collector);
        try {
          for await (const piece of textPieces(file, entry, LIMITS.part)) {
            reader.read(piece);
            const cells = collector.take();
            if (cells.length > 0) yield cells;
          }
        } catch (error) {
          throw inWords(error);
        }
      },
      close: () => file.close(),
    };
  } catch (error) {
    await file.close();
    throw inWords(error);
  }
}
