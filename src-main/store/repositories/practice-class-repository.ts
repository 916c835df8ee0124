import { PracticeClass, SlideReading } from "#core/contract/records/practice-class.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const CLASS = sql`SELECT id, name, seed, slide, intervals, repeats, made_at AS "madeAt", made_by AS "madeBy",
  (SELECT json_group_array(person_id ORDER BY ordinal) FROM practice_class_member WHERE class_id = id) AS members
  FROM practice_class`;

const classOf = ({ members, ...row }: Row): PracticeClass =>
  PracticeClass.parse({ ...row, memberIds: JSON.parse(String(members)) });

/** Newest first. */
export function listClasses(db: ReadableDb): PracticeClass[] {
  return sql`${CLASS} ORDER BY made_at DESC, rowid DESC`.all(db, classOf);
}

export function findClass(db: ReadableDb, id: string): PracticeClass | null {
  return sql`${CLASS} WHERE id = ${id}`.one(db, classOf);
}

export function insertClass(db: WritableDb, made: PracticeClass): void {
  insert(db, "practice_class", {
    id: made.id,
    name: made.name,
    seed: made.seed,
    slide: made.slide,
    intervals: made.intervals,
    repeats: made.repeats,
    made_at: made.madeAt,
    made_by: made.madeBy,
  });
  made.memberIds.forEach((personId, index) => {
    insert(db, "practice_class_member", { class_id: made.id, ordinal: index + 1, person_id: personId });
  });
}

/** In the order they were taken. */
export function slideReadingsOf(db: ReadableDb, classId: string): SlideReading[] {
  return sql`SELECT person_id AS "personId", interval, repeat, left_typed AS "left", right_typed AS "right",
    at
    FROM practice_slide_reading
    WHERE class_id = ${classId} ORDER BY at, person_id, repeat, interval`.all(db, SlideReading);
}

export function insertSlideReading(db: WritableDb, classId: string, reading: SlideReading): void {
  const { personId, interval, repeat, left, right, at } = reading;
  insert(db, "practice_slide_reading", {
    class_id: classId,
    person_id: personId,
    interval,
    repeat,
    left_typed: left,
    right_typed: right,
    at,
  });
}
