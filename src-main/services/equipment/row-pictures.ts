import {
  type Attachment,
  type AttachmentSubject,
  MOST_PICTURE_POINTS,
} from "#core/contract/records/attachment.ts";
import { pictureSize } from "#core/drawing/picture-size.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { attachmentsOfSheet } from "../../store/repositories/attachment-repository.ts";
import { findRow, findRowEvenUndone } from "../../store/repositories/row-repository.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";

/** @throws Refusal `sheet.unknown` */
export function picturesOfSheet(db: ReadableDb, sheetId: string): Attachment[] {
  if (findSheet(db, sheetId)) return attachmentsOfSheet(db, sheetId);
  throw new Refusal("sheet.unknown", "That sheet is not on this bench.", { field: "sheetId" });
}

/** True when the row is on its sheet. */
export function isRowThere(db: ReadableDb, rowId: string): boolean {
  return findRow(db, rowId) !== null;
}

/**
 * What stands beside the rows of a closed sheet stays as it was closed. Other subjects are never closed.
 * @throws Refusal `sheet.closed`
 */
export function requireOpenSheet(db: ReadableDb, { kind, id }: AttachmentSubject): void {
  const row = kind === "specimen row" ? findRowEvenUndone(db, id) : null;
  if (!row) return;
  const { state } = signOffStateOfSheet(db, row.sheetId);
  if (state === "open") return;
  throw new Refusal("sheet.closed", `Sheet ${findSheet(db, row.sheetId)?.number ?? ""} is ${state}.`, {
    field: "attachment.subject",
    hint: "Reopen it in Records, with its reason, before pictures of its rows change.",
  });
}

/**
 * A picture beside a row is drawn while rows are measured: no document, and no more points than a window can decode.
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
    `${fileName} has ${size.width} × ${size.height} points; a picture on a row has at most ${most} million.`,
    { field, hint: "Save it smaller and attach that file. Nothing was stored." },
  );
}
