import type { Attachment, AttachmentSubject } from "#core/contract/records/attachment.ts";

/** What pictures belong to: a row of a sheet or a field of a count. */
export interface PictureOwner {
  readonly subject: AttachmentSubject;
  /** “row 3, Tilia” or “field 4”. */
  readonly words: string;
  /** “row 3” or “field 4”: the name of a pasted picture. */
  readonly short: string;
}

export function isPictureOf({ subject }: Attachment, owner: PictureOwner): boolean {
  const { kind, id, field } = owner.subject;
  return subject.kind === kind && subject.id === id && subject.field === field;
}

/** “Row 3, Tilia” */
export const inTitle = ({ words }: PictureOwner): string => words.charAt(0).toUpperCase() + words.slice(1);
