import type { CalibrationSearch, CountSearch, SheetSearch } from "#core/contract/records/list-search.ts";
import type { Bound } from "../connection.ts";

/** Conditions of a search with what is bound to them, in order. */
export interface Where {
  readonly sql: string;
  readonly bound: readonly Bound[];
}

type Condition = readonly [sql: string, bound: readonly Bound[]];

function whereOf(conditions: readonly (Condition | null)[]): Where {
  const kept = conditions.filter((one) => one !== null);
  return {
    sql: kept.length === 0 ? "1" : kept.map(([sql]) => `(${sql})`).join(" AND "),
    bound: kept.flatMap(([, bound]) => bound),
  };
}

/**
 * Every word occurs in one of the texts, SQL expressions. SQLite's LIKE knows the cases of ASCII letters only, so each word is looked
 * for in both of its cases.
 */
function wordsIn(texts: readonly string[], words: string): readonly Condition[] {
  return words
    .split(/\s+/)
    .filter(Boolean)
    .map((word) => {
      const pattern = (of: string): string => `%${of.replaceAll(/[\\%_]/g, "\\$&")}%`;
      const cases = [...new Set([pattern(word.toLowerCase()), pattern(word.toUpperCase())])];
      // ASCII alone: both cases are one to LIKE.
      const needed = /^[\x20-\x7e]*$/.test(word) ? cases.slice(0, 1) : cases;
      const within = needed.flatMap((one) => texts.map((text) => [text, one] as const));
      return [
        within.map(([text]) => `${text} LIKE ? ESCAPE '\\'`).join(" OR "),
        within.map(([, one]) => one),
      ];
    });
}

const equal = (sql: string, value: Bound): Condition | null => (value === null ? null : [sql, [value]]);

/** Conditions that sheets and counts share, `prefix` being the letter of their numbers. */
function openedAs(
  { words, personId, familyId, objectiveId, since, until }: Omit<SheetSearch, "state">,
  prefix: "S" | "T",
  family: string,
): readonly (Condition | null)[] {
  const texts = [`printf('${prefix}-%04d', ordinal)`, "sample", "customer"];
  return [
    ...wordsIn(texts, words),
    equal("opened_by = ?", personId),
    equal(family, familyId),
    equal("objective_id = ?", objectiveId),
    equal("opened_at >= ?", since),
    equal("opened_at < ?", until),
  ];
}

/** A kind of sign-off of this sheet stands. */
const stands = (kind: "closed" | "reviewed" | "signed"): string =>
  `EXISTS (SELECT 1 FROM sheet_sign_off o WHERE o.sheet_id = sheet.id AND o.kind = '${kind}' AND o.ended_at IS NULL)`;

const SHEET_STATE_IS = {
  open: `NOT ${stands("closed")}`,
  closed: `${stands("closed")} AND NOT ${stands("reviewed")} AND NOT ${stands("signed")}`,
  reviewed: `${stands("reviewed")} AND NOT ${stands("signed")}`,
  signed: stands("signed"),
} as const;

export function sheetsWhere(search: SheetSearch): Where {
  const { state } = search;
  const family = "method_id IN (SELECT id FROM method WHERE family_id = ?)";
  return whereOf([...openedAs(search, "S", family), state && [SHEET_STATE_IS[state], []]]);
}

export function countsWhere(search: CountSearch): Where {
  const { state } = search;
  const family = "count_method_id IN (SELECT id FROM count_method WHERE family_id = ?)";
  const is = state && ([`state ${state === "closed" ? "=" : "<>"} 'closed'`, []] as const);
  return whereOf([...openedAs(search, "T", family), is]);
}

/** Rows that were not taken back, by their label. */
export const labelsWhere = (words: string): Where =>
  whereOf([["r.undone_at IS NULL", []], ...wordsIn(["r.label"], words)]);

const OF_TRAIN =
  "FROM optical_train t JOIN microscope s ON s.id = t.microscope_id JOIN objective o ON o.id = t.objective_id";
const TEXTS_OF_CALIBRATION = [
  "remark",
  "(SELECT c.number FROM certificate c WHERE c.id = certificate_id)",
  "(SELECT m.name || ' ' || m.serial FROM stage_micrometer m WHERE m.id = stage_micrometer_id)",
  `(SELECT s.name || ' ' || o.magnification || '×' ${OF_TRAIN} WHERE t.id = train_id)`,
];

/** Of calibrations in a state, or in any when null; the days are those on which they were begun. */
export function calibrationsWhere(state: string | null, search: CalibrationSearch | undefined): Where {
  const { words = "", trainId = null, personId = null, since = null, until = null } = search ?? {};
  return whereOf([
    equal("state = ?", state),
    equal("train_id = ?", trainId),
    equal("person_id = ?", personId),
    equal("started_at >= ?", since),
    equal("started_at < ?", until),
    ...wordsIn(TEXTS_OF_CALIBRATION, words),
  ]);
}

const SORT_COLUMN = { number: "ordinal", sample: "lower(sample)" } as const;

/** The order of a page; what is equal otherwise comes newest first. `rows` names the column that a table counts by. */
export function orderOf(
  { sort, descending }: Pick<SheetSearch, "sort" | "descending">,
  rows: string,
): string {
  const column = sort === "rows" ? rows : SORT_COLUMN[sort];
  return `${column} ${descending ? "DESC" : "ASC"}, ordinal DESC`;
}
