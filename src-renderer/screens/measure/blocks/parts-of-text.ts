/** A text in parts of at most `most` UTF-16 units, none of which begins or ends inside a character. `most` is 2 or more. */
export function partsOf(text: string, most: number): string[] {
  const parts: string[] = [];
  for (let from = 0; from < text.length; ) {
    const part = text.slice(from, from + most);
    const isCut = from + most < text.length && /[\ud800-\udbff]$/.test(part);
    parts.push(isCut ? part.slice(0, -1) : part);
    from += isCut ? most - 1 : most;
  }
  return parts;
}
