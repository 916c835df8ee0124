/** What a chord needs of a keyboard event. */
export type KeyPress = Pick<KeyboardEvent, "key" | "code" | "ctrlKey" | "altKey" | "shiftKey" | "metaKey">;

const DIGIT_CODE = /^(?:Digit|Numpad)(\d)$/;
const LETTER_CODE = /^Key([A-Z])$/;
const PLAIN_LETTER = /^[a-z]$/i;

/**
 * Name of a key press as the key table writes it: `Alt+1`, `Ctrl+Enter`, `F1`, `3`. With Alt or Ctrl held, digits
 * are taken from the key's place, because many layouts then print another character; so are letters with Alt where it
 * makes another character of them, as Option does on a Mac.
 */
export function chordOf(press: KeyPress): string {
  const held = press.ctrlKey || press.altKey || press.metaKey;
  const digit = held ? DIGIT_CODE.exec(press.code)?.[1] : undefined;
  const composed = press.altKey && !press.ctrlKey && !PLAIN_LETTER.test(press.key);
  const letter = composed ? LETTER_CODE.exec(press.code)?.[1] : undefined;
  const key = digit ?? letter ?? (press.key.length === 1 ? press.key.toUpperCase() : press.key);
  // Shift is part of a printed character already.
  const shift = press.shiftKey && (held || press.key.length > 1);
  return [
    press.ctrlKey ? "Ctrl" : "",
    press.altKey ? "Alt" : "",
    shift ? "Shift" : "",
    press.metaKey ? "Meta" : "",
    key === " " ? "Space" : key,
  ]
    .filter((part) => part !== "")
    .join("+");
}
