import type { Differences } from "./differences.ts";

type Fields = Readonly<Record<string, unknown>>;

/** A record as it is stored: where it stands, in words, and its fields. */
export interface StoredFact {
  readonly where: string;
  readonly fields: Fields;
}

/** The same record as the trail tells it; fields that a line does not tell are left out. */
export interface TrailFact extends StoredFact {
  /** Of the line that told it last. */
  readonly sequence: number;
}

/**
 * Compares records with what the trail tells of them, both by the same keys: one that is stored and not told, one that is
 * told and not stored, and every field in which the two differ, is named.
 */
export function compareWithTrail(
  differences: Differences,
  stored: ReadonlyMap<string, StoredFact>,
  fromTrail: ReadonlyMap<string, TrailFact>,
): void {
  for (const [key, { where, fields }] of stored) {
    const line = fromTrail.get(key);
    if (!line) {
      differences.add(`${where}, trail`, "no line", "a line that tells of it");
      continue;
    }
    for (const [name, value] of Object.entries(line.fields)) {
      if (value === undefined) continue;
      const here = `${where}, as told by trail line ${line.sequence}, ${name}`;
      differences.compare(here, fields[name] ?? null, value ?? null);
    }
  }
  for (const [key, { where, sequence }] of fromTrail) {
    if (!stored.has(key)) differences.add(where, "no record", `what trail line ${sequence} tells of it`);
  }
}

export function storedFacts<T>(
  records: readonly T[],
  keyOf: (record: T) => string,
  factOf: (record: T) => StoredFact,
): Map<string, StoredFact> {
  return new Map(records.map((record) => [keyOf(record), factOf(record)]));
}

/** Several lines may tell of one record: the later ones add to the earlier. */
export function factsFromTrail<L extends { readonly sequence: number }>(
  lines: readonly L[],
  keyOf: (line: L) => string,
  factOf: (line: L) => StoredFact,
): Map<string, TrailFact> {
  const fromTrail = new Map<string, TrailFact>();
  for (const line of lines) {
    const key = keyOf(line);
    const before = fromTrail.get(key);
    const { where, fields } = factOf(line);
    fromTrail.set(key, {
      where: before?.where ?? where,
      sequence: line.sequence,
      fields: { ...before?.fields, ...fields },
    });
  }
  return fromTrail;
}
