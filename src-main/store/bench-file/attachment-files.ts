import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { ATTACHMENT_TYPES } from "#core/contract/records/attachment.ts";
import { moveIntoPlace } from "./durable-file.ts";

type MediaType = (typeof ATTACHMENT_TYPES)[number];

/**
 * How files of each kind begin: PNG (W3C PNG, 5.2), JPEG (ITU-T T.81, B.1.1.3: SOI and the next marker), PDF
 * (ISO 32000-1:2008, 7.5.2).
 */
const BEGINNINGS: readonly (readonly [MediaType, Buffer])[] = [
  ["image/png", Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])],
  ["image/jpeg", Buffer.from([0xff, 0xd8, 0xff])],
  ["application/pdf", Buffer.from("%PDF-", "latin1")],
];

/** What a file is by its first bytes; null when it is of no kind that is kept. */
export function mediaTypeOf(content: Buffer): MediaType | null {
  const found = BEGINNINGS.find(([, beginning]) => content.subarray(0, beginning.length).equals(beginning));
  return found?.[0] ?? null;
}

export function sha256Of(content: Buffer): string {
  return createHash("sha256").update(content).digest("hex");
}

/** Where the attachments of a bench lie: beside its database. */
export function attachmentFolder(databaseFile: string): string {
  return join(dirname(databaseFile), "attachments");
}

/** Keeps a file under its SHA-256; equal files are kept once. @throws an error of the file system */
export function keepFile(databaseFile: string, content: Buffer): string {
  const folder = attachmentFolder(databaseFile);
  const sha256 = sha256Of(content);
  const place = join(folder, sha256);
  if (readKept(databaseFile, sha256).state === "whole") return sha256;
  mkdirSync(folder, { recursive: true });
  const partial = `${place}.partial`;
  try {
    writeFileSync(partial, content);
    moveIntoPlace(partial, place);
  } catch (error) {
    rmSync(partial, { force: true });
    throw error;
  }
  return sha256;
}

export type KeptFile =
  | { readonly state: "whole"; readonly content: Buffer }
  | { readonly state: "missing" }
  | { readonly state: "damaged"; readonly found: string };

/** Reads a kept file and checks it against its name. */
export function readKept(databaseFile: string, sha256: string): KeptFile {
  const place = join(attachmentFolder(databaseFile), sha256);
  if (!existsSync(place)) return { state: "missing" };
  const content = readFileSync(place);
  const found = sha256Of(content);
  return found === sha256 ? { state: "whole", content } : { state: "damaged", found };
}
