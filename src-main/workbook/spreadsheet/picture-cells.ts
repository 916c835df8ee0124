import type { Attachment } from "#core/contract/records/attachment.ts";
import { type Cell, text } from "./cell.ts";

/** Name with caption, and SHA-256, of the pictures that stand beside a row or a field, one to a line. */
export function pictureCells(pictures: readonly Attachment[]): Cell[] {
  const names = pictures.map(({ fileName, caption }) =>
    caption === "" ? fileName : `${fileName}: ${caption}`,
  );
  return [
    text(names.join("\n"), "wrapped"),
    text(pictures.map(({ sha256 }) => sha256).join("\n"), "wrapped"),
  ];
}
