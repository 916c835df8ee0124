import type { CalibrationSearch, CountSearch, SheetSearch } from "#core/contract/records/list-search.ts";
import type { Bound } from "../connection.ts";
import { joined, named, type Query, sql } from "../sql.ts";

type Condition = Query | null;

function whereOf(conditions: readonly Condition[]): Query {
  const kept = conditions.filter((one) => one !== null);
  return kept.length === 0
    ? sql`1`
    : joined(
        kept.map((one) => sql`(${one})`),
        " AND ",
      );
}

/**
 * Every word occurs in one of the texts. SQLite's LIKE knows the cases of ASCII letters only, so each word is looked
 * for in both of its cases.
 */
function wordsIn(texts: readonly Query[], words: string): readonly Query[] {
  return words
    .split(/\s+/)
    .filter(Boolean)
    .map((word) => {
      const pattern = (of: string): string => `%${of.replaceAll(/[\\%_]/g, "\\$&")}%`;
      const cases = [...new Set([pattern(word.toLowerCase()), pattern(word.toUpperCase())])];
      // ASCII alone: both cases are one to LIKE.
      const needed = /^[\x20-\x7e]*$/.test(word) ? cases.slice(0, 1) : cases;
      const within = needed.flatMap((one) => texts.map((text) => sql`${text} LIKE ${one} ESCAPE '\\'`));
      return joined(within, " OR ");
    });
}

const equal = (column: string, value: Bound): Condition =>
  value === null ? null : sql`${named(column)} = ${value}`;
const within = (column: string, since: Bound, until: Bound): readonly Condition[] => [
  since === null ? null : sql`${named(column)} >= ${since}`,
  until === null ? null : sql`${named(column)} < ${until}`,
];

/** Conditions that sheets and counts share. @param number SQL of their printed number */
function openedAs(
  { words, personId, objectiveId, since, until }: Omit<SheetSearch, "state">,
  number: Query,
): readonly Condition[] {
  return [
    ...wordsIn([number, sql`sample`, sql`customer`], words),
    equal("opened_by", personId),
    equal("objective_id", objectiveId),
    ...within("opened_at", since, until),
  ];
}

/** A kind of sign-off of this sheet stands. */
const stands = (kind: "closed" | "reviewed" | "signed"): Query =>
  sql`EXISTS (SELECT 1 FROM sheet_sign_off o WHERE o.sheet_id = sheet.id
    AND o.kind = ${kind} AND o.ended_at IS NULL)`;

const SHEET_STATE_IS = {
  open: sql`NOT ${stands("closed")}`,
  closed: sql`${stands("closed")} AND NOT ${stands("reviewed")} AND NOT ${stands("signed")}`,
  reviewed: sql`${stands("reviewed")} AND NOT ${stands("signed")}`,
  signed: stands("signed"),
} as const;

export function sheetsWhere(search: SheetSearch): Query {
  const { state, familyId } = search;
  return whereOf([
    ...openedAs(search, sql`printf('S-%04d', ordinal)`),
    familyId === null ? null : sql`method_id IN (SELECT id FROM method WHERE family_id = ${familyId})`,
    state && SHEET_STATE_IS[state],
  ]);
}

export function countsWhere(search: CountSearch): Query {
  const { state, familyId } = search;
  return whereOf([
    ...openedAs(search, sql`printf('T-%04d', ordinal)`),
    familyId === null
      ? null
      : sql`count_method_id IN (SELECT id FROM count_method WHERE family_id = ${familyId})`,
    state && (state === "closed" ? sql`state = 'closed'` : sql`state <> 'closed'`),
  ]);
}

/** Rows that were not taken back, by their label. */
export const labelsWhere = (words: string): Query =>
  whereOf([sql`r.undone_at IS NULL`, ...wordsIn([sql`r.label`], words)]);

const OF_TRAIN = sql`FROM optical_train t JOIN microscope s ON s.id = t.microscope_id
  JOIN objective o ON o.id = t.objective_id`;
const TEXTS_OF_CALIBRATION = [
  sql`remark`,
  sql`(SELECT c.number FROM certificate c WHERE c.id = certificate_id)`,
  sql`(SELECT m.name || ' ' || m.serial FROM stage_micrometer m WHERE m.id = stage_micrometer_id)`,
  sql`(SELECT s.name || ' ' || o.magnification || '×' ${OF_TRAIN} WHERE t.id = train_id)`,
];

/** Of calibrations in a state, or in any when null; the days are those on which they were begun. */
export function calibrationsWhere(state: string | null, search: CalibrationSearch | undefined): Query {
  const { words = "", trainId = null, personId = null, since = null, until = null } = search ?? {};
  return whereOf([
    equal("state", state),
    equal("train_id", trainId),
    equal("person_id", personId),
    ...within("started_at", since, until),
    ...wordsIn(TEXTS_OF_CALIBRATION, words),
  ]);
}

const SORT_COLUMN = { number: sql`ordinal`, sample: sql`lower(sample)` } as const;

/** The order of a page; what is equal otherwise comes newest first. `rows` names the column that a table counts by. */
export function orderOf({ sort, descending }: Pick<SheetSearch, "sort" | "descending">, rows: string): Query {
  const column = sort === "rows" ? named(rows) : SORT_COLUMN[sort];
  return sql`${column} ${descending ? sql`DESC` : sql`ASC`}, ordinal DESC`;
}
