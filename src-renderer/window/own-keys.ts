import { chordInWords } from "./key-words.ts";
import { type CommandId, KEYMAP, type KeyEntry, keysOf } from "./keymap.ts";

const ENTRIES: readonly KeyEntry[] = KEYMAP;

/** Commands whose key a person may choose: all that the dispatcher runs by one or two keys. */
export const COMMANDS_WITH_KEYS = ENTRIES.filter(
  (entry) => entry.by === "dispatched" && entry.keys.length <= 2,
) as readonly (KeyEntry & { readonly id: CommandId })[];

const OF_FUNCTION = /^(?:Shift\+)?F([1-9]|1[0-2])$/;
const HELD = /^(?:Ctrl|Alt)\+(?!Alt\+)/;
/** What the window, the machine or a field does with a key is not to be taken from it. */
const TAKEN_ELSEWHERE = new Set([
  "F5",
  "F11",
  "F12",
  "Alt+F4",
  "Alt+Tab",
  "Alt+Space",
  "Alt+Shift+ArrowLeft",
  "Alt+Shift+ArrowRight",
  ...["A", "C", "V", "X", "Z", "Y", "R", "W", "T", "N", "Q"].map((letter) => `Ctrl+${letter}`),
  ...["+", "-", "0", "Enter", "Tab", "Home", "End", "Space", "Escape"].map((key) => `Ctrl+${key}`),
]);

/** Why a command cannot have a key; null when it can. */
export function whyNotThisKey(id: CommandId, chord: string): string | null {
  const words = chordInWords(chord);
  if (!OF_FUNCTION.test(chord) && !HELD.test(chord)) {
    return `${words} is typed into fields. Hold Alt or Ctrl with it, or take one of F1 to F12.`;
  }
  if (TAKEN_ELSEWHERE.has(chord)) return `${words} is used by the window or by fields. Choose another key.`;
  const other = ENTRIES.find(
    (entry) => entry.id !== id && keysOf(entry.id as CommandId).some((one) => one === chord),
  );
  return other ? `${words} is the key of “${other.words}”. Choose another, or change that one first.` : null;
}
