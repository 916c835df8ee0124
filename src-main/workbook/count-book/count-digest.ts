import { type Progress, silently, withProgress } from "../../long-work/progress.ts";
import { recordDigest } from "../sheet-book/data-digest.ts";
import type { CountBundle } from "./count-bundle-type.ts";

export const COUNT_DIGEST_RECIPE =
  "SHA-256 of UTF-8 text, one line of JSON with keys in alphabetical order for each record, each line ended by a " +
  "line feed, in this order: the count, its method, its results, the calibration or null, the fields, the events, and the pictures " +
  "of fields where there are any.";

/** Digest of the records behind an export of a count; stops when asked. */
export async function countDigest(bundle: CountBundle, progress: Progress): Promise<string> {
  const digest = recordDigest();
  for (const record of [bundle.count, bundle.method, bundle.results, bundle.calibration]) digest.add(record);
  for (const field of bundle.fields) digest.add(field);
  for await (const event of withProgress(bundle.events(), silently(progress))) digest.add(event);
  // A count without pictures keeps the fingerprint that it had before there were any.
  for (const picture of bundle.pictures) digest.add(picture);
  return digest.hex();
}
