import type { TrailLine } from "#core/contract/records/trail.ts";
import { columns } from "../columns.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";
import {
  isUnlike,
  type Known,
  nextModelText,
  packDetail,
  packId,
  packInstant,
  unpackDetail,
  unpackId,
  unpackInstant,
} from "../trail-packing.ts";

export type LineToKeep = TrailLine;

/** Acts on rows that change or take away what was read; `audit_line_amendment` has their lines. */
const AMENDING: ReadonlySet<string> = new Set([
  "rows.amend",
  "rows.describe",
  "rows.strike",
  "rows.changeObjective",
  "rows.convert",
  "rows.undo",
  "rows.redo",
]);

/** Person, act and subject of a line, which few lines have for themselves. @returns their number */
function kindOf(db: WritableDb, { personId, act, subject }: LineToKeep): number {
  const found = sql`SELECT id FROM audit_kind
    WHERE act = ${act} AND subject = ${subject} AND coalesce(person_id, '') = ${personId ?? ""}`.one(db);
  if (found) return Number(found.id);
  insert(db, "audit_kind", { person_id: personId, act, subject });
  return sql`SELECT last_insert_rowid() AS id`.number(db);
}

type KeptModel = ReturnType<typeof modelOf>;
const modelOf = columns({ id: "number", number: "number", sequence: "number", text: "text" });

function addModel(db: WritableDb, kind: number, line: LineToKeep, before: KeptModel | null): KeptModel {
  const text = nextModelText(before?.text ?? null, line.detail);
  const number = (before?.number ?? 0) + 1;
  insert(db, "audit_model", { kind, number, sequence: line.sequence, text });
  const id = sql`SELECT last_insert_rowid() AS id`.number(db);
  return { id, number, sequence: line.sequence, text };
}

/** Keeps one line, and with it a model where it is unlike what came before. */
export function insertLine(
  db: WritableDb,
  table: "audit_line" | "audit_line_packed",
  line: LineToKeep,
): void {
  const { sequence, at, personId, subjectId, reason, detail, hash, act } = line;
  const kind = kindOf(db, line);
  const known = { at, personId, subjectId };
  let model = sql`SELECT id, number, sequence, text FROM audit_model
    WHERE kind = ${kind} ORDER BY number DESC LIMIT 1`.one(db, modelOf);
  let packed = packDetail(detail, { ...known, model: model?.text ?? null });
  if (isUnlike(line, packed, model)) {
    model = addModel(db, kind, line, model);
    packed = packDetail(detail, { ...known, model: model.text });
  }
  insert(db, table, {
    sequence,
    at: packInstant(at),
    kind,
    subject_id: packId(subjectId),
    reason,
    model: model?.id ?? null,
    detail: packed,
    hash: Buffer.from(hash, "hex"),
    amends: AMENDING.has(act) ? 1 : null,
  });
}

/** What `lineOf` reads, of `LINES`. */
export const LINE = sql`a.sequence, a.at, k.person_id AS "personId", k.act, k.subject,
  a.subject_id AS "subjectId",
  a.reason,
  a.detail, m.text AS model, a.hash, a.amends`;
export const LINES = sql`audit_line a
  CROSS JOIN audit_kind k ON k.id = a.kind LEFT JOIN audit_model m ON m.id = a.model`;

export const hashText = (hash: unknown): string =>
  hash instanceof Uint8Array ? Buffer.from(hash).toString("hex") : String(hash);

/** Kept otherwise than the program keeps a line of its act: somebody else changed it. */
const MARKED_WRONG = '{"unreadable":"its place among the amendments is not the one of its act"}';
const UNREADABLE = '{"unreadable":"its detail cannot be read"}';

function detailOf(kept: unknown, known: Known): string {
  try {
    return unpackDetail(kept as Uint8Array, known);
  } catch {
    return UNREADABLE;
  }
}

/** A line as it was told and hashed. What was changed from outside beyond reading is shown so, and its hash differs. */
export function lineOf(row: Row): TrailLine {
  const at = unpackInstant(row.at);
  const subjectId = unpackId(row.subjectId);
  const personId = row.personId as string | null;
  const act = String(row.act);
  const model = row.model as string | null;
  return {
    sequence: Number(row.sequence),
    at,
    personId,
    act,
    subject: String(row.subject),
    subjectId,
    reason: row.reason as string | null,
    detail:
      (row.amends === 1) === AMENDING.has(act)
        ? detailOf(row.detail, { model, at, personId, subjectId })
        : MARKED_WRONG,
    hash: hashText(row.hash),
  };
}

/** Models that are not what their lines make, by number; nothing else tells of a change of what no line uses. */
export function wrongModels(db: ReadableDb): number[] {
  const wrong: number[] = [];
  const models = sql`SELECT id, kind, number, sequence, text FROM audit_model ORDER BY kind, number`.all(db);
  for (const [place, { id, kind, number, sequence, text }] of models.entries()) {
    const earlier = models[place - 1];
    const before = earlier?.kind === kind ? earlier : undefined;
    const row = sql`SELECT ${LINE}, a.kind FROM ${LINES} WHERE a.sequence = ${Number(sequence)}`.one(db);
    const expected = row && nextModelText(before ? String(before.text) : null, lineOf(row).detail);
    const follows = number === Number(before?.number ?? 0) + 1;
    if (expected !== text || !follows || row?.kind !== kind) wrong.push(Number(id));
  }
  return wrong;
}
