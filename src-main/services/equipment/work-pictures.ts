import {
  type Attachment,
  type AttachmentSubject,
  MOST_PICTURE_POINTS,
} from "#core/contract/records/attachment.ts";
import { pictureSize } from "#core/drawing/picture-size.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { attachmentsOfCount, attachmentsOfSheet } from "../../store/repositories/attachment-repository.ts";
import { findCount } from "../../store/repositories/count-repository.ts";
import { findRow, findRowEvenUndone } from "../../store/repositories/row-repository.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";

/* Pictures beside what is worked on: the rows of a sheet and the fields of a count. */

/** @throws Refusal `sheet.unknown` */
export function picturesOfSheet(db: ReadableDb, sheetId: string): Attachment[] {
  if (findSheet(db, sheetId)) return attachmentsOfSheet(db, sheetId);
  throw new Refusal("sheet.unknown", "That sheet is not on this bench.", { field: "sheetId" });
}

/** @throws Refusal `count.unknown` */
export function picturesOfCount(db: ReadableDb, countId: string): Attachment[] {
  if (findCount(db, countId)) return attachmentsOfCount(db, countId);
  throw new Refusal("count.unknown", "That count is not on this bench.", { field: "countId" });
}

/** Pictures stand beside it while it is worked on; documents do not. */
export function takesPictures({ kind }: AttachmentSubject): boolean {
  return kind === "specimen row" || kind === "count field";
}

/** True when the row is on its sheet, or the field one that the count has begun. */
export function isWorkThere(db: ReadableDb, { kind, id, field = 0 }: AttachmentSubject): boolean {
  if (kind === "specimen row") return findRow(db, id) !== null;
  return field <= (findCount(db, id)?.currentField ?? 0);
}

function requireOpenSheet(db: ReadableDb, rowId: string): void {
  const row = findRowEvenUndone(db, rowId);
  if (!row) return;
  const { state } = signOffStateOfSheet(db, row.sheetId);
  if (state === "open") return;
  throw new Refusal("sheet.closed", `Sheet ${findSheet(db, row.sheetId)?.number ?? ""} is ${state}.`, {
    field: "attachment.subject",
    hint: "Reopen it in Records, with its reason, before pictures of its rows change.",
  });
}

/**
 * What stands beside a closed sheet or count stays as it was closed. Other subjects are never closed.
 * @throws Refusal `sheet.closed`, `count.closed`
 */
export function requireOpenWork(db: ReadableDb, { kind, id }: AttachmentSubject): void {
  if (kind === "specimen row") requireOpenSheet(db, id);
  if (kind !== "count field") return;
  const count = findCount(db, id);
  if (count?.state !== "closed") return;
  throw new Refusal("count.closed", `Count ${count.number} is closed.`, {
    field: "attachment.subject",
    hint: "Open it again on its page, with its reason, before pictures of its fields change.",
  });
}

/**
 * A picture beside a row or a field is drawn while work goes on: no document, and no more points than a window can decode.
 * @throws Refusal `attachment.type`, `attachment.too-many-points`
 */
export function requirePicture(content: Buffer, fileName: string): void {
  const field = "uploadId";
  const size = pictureSize(content);
  if (size === null) {
    throw new Refusal("attachment.type", `${fileName} is no whole PNG or JPEG picture.`, {
      field,
      hint: "Save the photograph or sketch as PNG or JPEG and attach that file.",
    });
  }
  if (size.width * size.height <= MOST_PICTURE_POINTS) return;
  const most = MOST_PICTURE_POINTS / 1_000_000;
  throw new Refusal(
    "attachment.too-many-points",
    `${fileName} has ${size.width} × ${size.height} points; a picture on a row or a field has at most ${most} million.`,
    { field, hint: "Save it smaller and attach that file. Nothing was stored." },
  );
}
