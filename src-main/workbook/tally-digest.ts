import { recordDigest } from "./data-digest.ts";
import type { TallyBundle } from "./tally-bundle-type.ts";

export const TALLY_DIGEST_RECIPE =
  "SHA-256 of UTF-8 text, one line of JSON with keys in alphabetical order for each record, each line ended by a " +
  "line feed, in this order: the count, its method, its results, the calibration or null, the fields, the events.";

/** Digest of the records behind an export of a count. */
export function tallyDigest(bundle: TallyBundle): string {
  const digest = recordDigest();
  for (const record of [bundle.tally, bundle.method, bundle.results, bundle.calibration]) digest.add(record);
  for (const field of bundle.fields) digest.add(field);
  for (const event of bundle.events()) digest.add(event);
  return digest.hex();
}
