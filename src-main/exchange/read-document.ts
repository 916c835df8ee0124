import { readFile } from "node:fs/promises";
import type { z } from "zod";
import {
  SHEET_DOCUMENT_FORMAT,
  SHEET_DOCUMENT_VERSION,
  SheetDocument,
} from "#core/contract/records/sheet-document.ts";
import { brokenTextAt } from "../well-formed.ts";

/** Why a file is no whole document of sheets; `field` is a path in it such as `sheets[0].rows[3].label`, or empty. */
export class UnfitDocument extends Error {
  readonly field: string;
  readonly reason: string;

  constructor(field: string, reason: string) {
    super(field === "" ? reason : `${field} ${reason}`);
    this.name = "UnfitDocument";
    this.field = field;
    this.reason = reason;
  }
}

/** `sheets[0].rows[3].label` */
export function fieldOf(path: readonly PropertyKey[]): string {
  return path
    .map((part) => (typeof part === "number" ? `[${part}]` : `.${String(part)}`))
    .join("")
    .replace(/^\./, "");
}

function reasonOf(issue: z.core.$ZodIssue): string {
  if (issue.code === "unrecognized_keys") return `holds what no file of ours holds: ${issue.keys.join(", ")}`;
  if (issue.code === "invalid_type" && issue.input === undefined) return "is missing";
  return issue.message;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null;
}

/** @throws UnfitDocument for a file of another kind, or of a version this program does not know */
function requireOurs(read: unknown): void {
  if (!isObject(read) || read.format !== SHEET_DOCUMENT_FORMAT) {
    throw new UnfitDocument("format", `is not “${SHEET_DOCUMENT_FORMAT}”: another program wrote this file`);
  }
  if (typeof read.version === "number" && read.version > SHEET_DOCUMENT_VERSION) {
    throw new UnfitDocument(
      "version",
      `is ${read.version}; this program reads up to version ${SHEET_DOCUMENT_VERSION}: use a newer one`,
    );
  }
}

/** Reads a JSON file of sheets. @throws UnfitDocument naming the first field that is not as we write it */
export async function readDocument(path: string): Promise<SheetDocument> {
  const bytes = await readFile(path);
  let read: unknown;
  try {
    read = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    throw new UnfitDocument("", "is not JSON text, or was cut off");
  }
  requireOurs(read);
  const broken = brokenTextAt(read);
  if (broken !== null) {
    const field = fieldOf(broken.map((part) => (/^\d+$/.test(part) ? Number(part) : part)));
    throw new UnfitDocument(field, "holds half a character, which cannot be stored");
  }
  const parsed = SheetDocument.safeParse(read, { reportInput: true });
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  throw issue ? new UnfitDocument(fieldOf(issue.path), reasonOf(issue)) : parsed.error;
}
