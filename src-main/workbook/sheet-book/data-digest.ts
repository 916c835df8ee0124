import { createHash } from "node:crypto";
import type { SheetBundle } from "./sheet-bundle-type.ts";

function ordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(ordered);
  if (value === null || typeof value !== "object") return value;
  const entries = Object.entries(value).filter(([, inner]) => inner !== undefined);
  entries.sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, inner]) => [key, ordered(inner)]));
}

export const DIGEST_RECIPE =
  "SHA-256 of UTF-8 text, one line of JSON with keys in alphabetical order for each record, each line ended by a " +
  "line feed, in this order: the sheet, the method, the microscope, the trains, the calibrations, the stage " +
  "micrometers with their certificates, the rows by ordinal, the amendments.";

/** Digest of the records behind a workbook, made while they are walked. */
export interface DataDigest {
  add(record: unknown): void;
  hex(): string;
}

/** An empty digest; each record becomes one line. */
export function recordDigest(): DataDigest {
  const hash = createHash("sha256");
  return {
    add: (record) => {
      hash.update(`${JSON.stringify(ordered(record))}\n`, "utf8");
    },
    hex: () => hash.digest("hex"),
  };
}

export function openDigest(bundle: SheetBundle): DataDigest {
  const digest = recordDigest();
  const { add } = digest;
  add(bundle.sheet);
  add(bundle.method);
  add(bundle.microscope);
  for (const list of [bundle.trains, bundle.calibrations, bundle.stageMicrometers]) {
    for (const record of list) add(record);
  }
  return digest;
}

/** Digest of what a JSON file says beside the data: people, replaced results and what they rest on, sign-offs, pictures. */
export function historyDigest({ people, earlier, signOffs, pictures = [] }: SheetBundle): string {
  const digest = recordDigest();
  const lists = [people, earlier.trains, earlier.calibrations, earlier.stageMicrometers];
  for (const list of lists) for (const record of list) digest.add(record);
  for (const result of earlier.results()) digest.add(result);
  for (const record of [...signOffs, ...pictures]) digest.add(record);
  return digest.hex();
}

/** Digest of the verdicts on the calibrations of a JSON file, of the checks against them, and of what was used overdue. */
export function verdictsDigest({ assessments = [], checks = [], overdueUses = [] }: SheetBundle): string {
  const digest = recordDigest();
  for (const list of [assessments, checks, overdueUses]) for (const record of list) digest.add(record);
  return digest.hex();
}

/** Of several sheets: the SHA-256 of their digests in order, each ended by a line feed; of one sheet its own. */
export function jointDigest(digests: readonly string[]): string {
  const [only] = digests;
  if (only !== undefined && digests.length === 1) return only;
  return createHash("sha256")
    .update(digests.map((one) => `${one}\n`).join(""), "utf8")
    .digest("hex");
}
