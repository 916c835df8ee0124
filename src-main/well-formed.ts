/**
 * Path of the first text with half a character in it (a surrogate without its partner): no file, hash or other program
 * could keep it as it is. null when every text is whole. Own keys only, as JSON has them.
 */
export function brokenTextAt(value: unknown, path: readonly string[] = []): readonly string[] | null {
  if (typeof value === "string") return value.isWellFormed() ? null : path;
  if (typeof value !== "object" || value === null) return null;
  for (const [key, member] of Object.entries(value)) {
    const found = key.isWellFormed() ? brokenTextAt(member, [...path, key]) : path;
    if (found !== null) return found;
  }
  return null;
}
