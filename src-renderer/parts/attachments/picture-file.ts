/** The kinds of picture that a row or a field takes; the host looks at the bytes. */
export const PICTURE_KINDS = "image/png,image/jpeg";

/** The first picture among what is pasted or dropped; null: there is none. */
export function pictureFileOf(data: Pick<DataTransfer, "files"> | null): File | null {
  return [...(data?.files ?? [])].find((file) => PICTURE_KINDS.split(",").includes(file.type)) ?? null;
}

/** What the clipboard calls every picture; it would say nothing in a list. */
const NO_NAME = "image.png";

/**
 * The name that a picture is kept under.
 * @param of what it belongs to, such as “row 3”
 */
export function keptName(file: Pick<File, "name">, of: string): string {
  return file.name === NO_NAME || file.name.trim() === "" ? `pasted, ${of}.png` : file.name;
}
