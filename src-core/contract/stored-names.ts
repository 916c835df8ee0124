/**
 * Names under which benches and exported files keep what the program now calls otherwise. Only this file knows both: what
 * is stored never changes its name, so that a bench of any version opens, verifies and exports as before. In SQL the
 * stored names stand as they are (`tally`, `tally_id` …).
 */

/** Program word → stored word: the trail's subject, and keys of its details and of exported JSON. */
export const STORED = { count: "tally", countId: "tallyId" } as const;

/** What the program calls a subject of the trail. */
export const subjectOfStored = (stored: string): string => (stored === STORED.count ? "count" : stored);

/** What the trail calls a subject: a count is kept as `tally`. */
export const storedSubject = (subject: string): string => (subject === "count" ? STORED.count : subject);

/** First part of a call's name → how the trail and the table of requests spell it. */
const STORED_NOUNS: Readonly<Record<string, string>> = { counts: "tallies" };
const NOUNS = Object.fromEntries(Object.entries(STORED_NOUNS).map(([noun, stored]) => [stored, noun]));

function withNoun(name: string, nouns: Readonly<Record<string, string>>): string {
  const [noun = "", ...verb] = name.split(".");
  return [nouns[noun] ?? noun, ...verb].join(".");
}

/** What the trail calls an act: `counts.open` is kept as `tallies.open`. */
export function storedAct(call: string): string {
  return withNoun(call, STORED_NOUNS);
}

/** The call of an act of the trail: `counts.open` for `tallies.open`. */
export function actOfStored(stored: string): string {
  return withNoun(stored, NOUNS);
}
