const WORDS: Readonly<Record<string, string>> = {
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  PageDown: "Page ↓",
  PageUp: "Page ↑",
};

/** A chord as people read it: `Alt+←`. */
export function chordInWords(chord: string): string {
  return chord
    .split("+")
    .map((key) => WORDS[key] ?? key)
    .join("+");
}
