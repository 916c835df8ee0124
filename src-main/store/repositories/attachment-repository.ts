import { Attachment, type AttachmentSubject } from "#core/contract/records/attachment.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { insert, sql } from "../sql.ts";

const COLUMNS = sql`id, subject_kind AS "subjectKind", subject_id AS "subjectId",
  subject_field AS "subjectField", file_name AS "fileName",
  media_type AS "mediaType", bytes, sha256, caption, added_at AS "addedAt", added_by AS "addedBy",
  withdrawn_at AS "withdrawnAt", withdrawn_by AS "withdrawnBy", withdrawn_reason AS "withdrawnReason"`;

function attachmentOf(row: Row): Attachment {
  const { subjectKind, subjectId, subjectField, withdrawnAt, withdrawnBy, withdrawnReason, ...rest } = row;
  return Attachment.parse({
    ...rest,
    subject: { kind: subjectKind, id: subjectId, ...(subjectField === null ? {} : { field: subjectField }) },
    withdrawn: withdrawnAt === null ? null : { at: withdrawnAt, by: withdrawnBy, reason: withdrawnReason },
  });
}

/** Newest first; of one subject, or all. */
export function listAttachments(db: ReadableDb, subject: AttachmentSubject | null): Attachment[] {
  const rows =
    subject === null
      ? sql`SELECT ${COLUMNS} FROM attachment ORDER BY rowid DESC`.all(db)
      : sql`SELECT ${COLUMNS} FROM attachment WHERE subject_kind = ${subject.kind}
        AND subject_id = ${subject.id} AND subject_field IS ${subject.field ?? null} ORDER BY rowid DESC`.all(
          db,
        );
  return rows.map(attachmentOf);
}

/** Pictures on the rows of a sheet, whether those are on it now or not; newest first. */
export function attachmentsOfSheet(db: ReadableDb, sheetId: string): Attachment[] {
  return sql`SELECT ${COLUMNS} FROM attachment WHERE subject_kind = 'specimen row'
    AND subject_id IN (SELECT id FROM specimen_row WHERE sheet_id = ${sheetId}) ORDER BY rowid DESC`.all(
    db,
    attachmentOf,
  );
}

/** Pictures on the fields of a count, whether those are on it now or not; newest first. */
export function attachmentsOfCount(db: ReadableDb, countId: string): Attachment[] {
  return sql`SELECT ${COLUMNS} FROM attachment WHERE subject_kind = 'count field'
    AND subject_id = ${countId} ORDER BY rowid DESC`.all(db, attachmentOf);
}

export function findAttachment(db: ReadableDb, id: string): Attachment | null {
  return sql`SELECT ${COLUMNS} FROM attachment WHERE id = ${id}`.one(db, attachmentOf);
}

export function insertAttachment(db: WritableDb, attachment: Attachment): void {
  insert(db, "attachment", {
    id: attachment.id,
    subject_kind: attachment.subject.kind,
    subject_id: attachment.subject.id,
    subject_field: attachment.subject.field ?? null,
    file_name: attachment.fileName,
    media_type: attachment.mediaType,
    bytes: attachment.bytes,
    sha256: attachment.sha256,
    caption: attachment.caption,
    added_at: attachment.addedAt,
    added_by: attachment.addedBy,
  });
}

export function withdrawAttachment(
  db: WritableDb,
  id: string,
  withdrawn: { readonly at: string; readonly by: string; readonly reason: string },
): void {
  sql`UPDATE attachment SET withdrawn_at = ${withdrawn.at}, withdrawn_by = ${withdrawn.by},
    withdrawn_reason = ${withdrawn.reason} WHERE id = ${id}`.run(db);
}
