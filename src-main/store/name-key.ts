/** The form in which two names count as the same: case, width and spacing apart. */
export function nameKey(...parts: readonly string[]): string {
  return parts
    .map((part) => part.normalize("NFKC").trim().replace(/\s+/gu, " ").toLowerCase())
    .join("\u001f");
}
