import { PracticeClass, SlideReading } from "#core/contract/records/practice-class.ts";
import { all, one, type ReadableDb, type Row, run, type WritableDb } from "../connection.ts";

const CLASS = `SELECT id, name, seed, slide, intervals, repeats, made_at AS "madeAt", made_by AS "madeBy",
  (SELECT json_group_array(person_id ORDER BY ordinal) FROM practice_class_member WHERE class_id = id) AS members
  FROM practice_class`;

const classOf = ({ members, ...row }: Row): PracticeClass =>
  PracticeClass.parse({ ...row, memberIds: JSON.parse(String(members)) });

/** Newest first. */
export function listClasses(db: ReadableDb): PracticeClass[] {
  return all(db, `${CLASS} ORDER BY made_at DESC, rowid DESC`).map(classOf);
}

export function findClass(db: ReadableDb, id: string): PracticeClass | null {
  const row = one(db, `${CLASS} WHERE id = ?`, id);
  return row ? classOf(row) : null;
}

export function insertClass(db: WritableDb, made: PracticeClass): void {
  run(
    db,
    `INSERT INTO practice_class (id, name, seed, slide, intervals, repeats, made_at, made_by)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    made.id,
    made.name,
    made.seed,
    made.slide,
    made.intervals,
    made.repeats,
    made.madeAt,
    made.madeBy,
  );
  made.memberIds.forEach((personId, index) => {
    run(
      db,
      "INSERT INTO practice_class_member (class_id, ordinal, person_id) VALUES (?, ?, ?)",
      made.id,
      index + 1,
      personId,
    );
  });
}

/** In the order they were taken. */
export function slideReadingsOf(db: ReadableDb, classId: string): SlideReading[] {
  return all(
    db,
    `SELECT person_id AS "personId", interval, repeat, left_typed AS "left", right_typed AS "right", at
     FROM practice_slide_reading WHERE class_id = ? ORDER BY at, person_id, repeat, interval`,
    classId,
  ).map((row) => SlideReading.parse(row));
}

export function insertSlideReading(db: WritableDb, classId: string, reading: SlideReading): void {
  const { personId, interval, repeat, left, right, at } = reading;
  run(
    db,
    `INSERT INTO practice_slide_reading (class_id, person_id, interval, repeat, left_typed, right_typed, at)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
    classId,
    personId,
    interval,
    repeat,
    left,
    right,
    at,
  );
}
