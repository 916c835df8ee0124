import { type FileHandle, open, readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import type { NotedHead } from "#core/contract/records/trail.ts";
import { type SignedHead, signedHeadsInText } from "#core/contract/records/trail-signature.ts";
import { headTextsIn } from "./about-facts.ts";
import { openWorkbookFile } from "./workbook-file.ts";

/** So much of a text file is looked at: exports name the head near their beginning, the anchor file is short. */
const MOST_BYTES = 4 * 1024 * 1024;
const TEXT = /\.(txt|csv|json|svg)$/i;
const NOTED = /(?<![\w:])([1-9]\d{0,11}):([0-9a-f]{64}|[0-9a-f]{16})(?![\w:])/g;

/** A line of a trail with its hash, and where it was noted: the path of a file, or words. */
export interface KnownHead extends NotedHead {
  readonly from: string;
}

async function beginningOf(path: string): Promise<string> {
  let file: FileHandle | null = null;
  try {
    file = await open(path);
    const { buffer, bytesRead } = await file.read(Buffer.alloc(MOST_BYTES), 0, MOST_BYTES, 0);
    return buffer.toString("utf8", 0, bytesRead);
  } finally {
    await file?.close();
  }
}

async function textsOf(path: string): Promise<string> {
  if (TEXT.test(path)) return beginningOf(path);
  if (!/\.xlsx$/i.test(path)) return "";
  const book = await openWorkbookFile(path);
  try {
    return (await headTextsIn(book)).join("\n");
  } finally {
    await book.close();
  }
}

/** The heads that one export or anchor file names, each once, and those of them that are signed. @throws what reading it throws */
async function headsIn(path: string): Promise<Pick<Noted, "heads" | "signed">> {
  const found = new Map<string, KnownHead>();
  const whole = await textsOf(path);
  for (const [text, line = "", hash = ""] of whole.matchAll(NOTED)) {
    found.set(text, { sequence: Number(line), hash, from: path });
  }
  return { heads: [...found.values()], signed: signedHeadsInText(whole) };
}

export interface Noted {
  readonly heads: readonly KnownHead[];
  readonly signed: readonly SignedHead[];
  /** Files that could not be read, each with why. */
  readonly unread: readonly string[];
}

/**
 * Every head noted in a file, or in the files of a folder: workbooks, CSV, JSON and SVG exports, anchor files.
 * @throws file errors when there is no such file or folder
 */
export async function notedHeads(place: string): Promise<Noted> {
  const isFolder = (await stat(place)).isDirectory();
  const paths = isFolder ? (await readdir(place)).sort().map((name) => join(place, name)) : [place];
  const heads: KnownHead[] = [];
  const signed: SignedHead[] = [];
  const unread: string[] = [];
  for (const path of paths) {
    if (isFolder && !(await stat(path)).isFile()) continue;
    try {
      const found = await headsIn(path);
      heads.push(...found.heads);
      signed.push(...found.signed);
    } catch (error) {
      unread.push(`${path}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  return { heads, signed, unread };
}
