/** Keys of the keyboard as a list writes them: `7` and `.` of the keypad, `A`, `row 7` for a digit above the letters. */

/** Null: no key that a category may have. */
export function keyCodeOf(text: string): string | null {
  const plain = text.trim().toLowerCase();
  if (plain === "") return "";
  if (/^[0-9]$/.test(plain)) return `Numpad${plain}`;
  if (/^[a-z]$/.test(plain)) return `Key${plain.toUpperCase()}`;
  const row = /^row ([0-9])$/.exec(plain)?.[1];
  if (row !== undefined) return `Digit${row}`;
  return plain === "." || plain === "," ? "NumpadDecimal" : null;
}

export function keyTextOf(code: string): string {
  if (code === "NumpadDecimal" || code === "NumpadComma") return ".";
  return code.startsWith("Digit") ? `row ${code.slice(5)}` : code.replace(/^(?:Numpad|Key)/, "");
}
