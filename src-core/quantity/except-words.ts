const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");

/** Finds any of some words in a text, the longest first; a bare number is not found within another. */
export function patternOfWords(words: readonly string[]): RegExp {
  const longestFirst = [...words].sort((a, b) => b.length - a.length);
  return new RegExp(`(?<![\\d.,])(${longestFirst.map(escaped).join("|")})(?![.,]?\\d)`);
}

/** Changes a text except for what the pattern of one group takes. */
export function changedExcept(text: string, pattern: RegExp, change: (part: string) => string): string {
  // What the pattern takes stands at the odd places.
  return text
    .split(pattern)
    .map((part, at) => (at % 2 === 1 ? part : change(part)))
    .join("");
}
