/** What somebody wrote, to stand at the end of a sentence of ours: with one full stop, theirs or ours. */
export function asSentence(words: string): string {
  const text = words.trimEnd();
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}
