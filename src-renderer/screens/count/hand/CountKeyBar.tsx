import { KeyLine } from "../../../parts/KeyLine.tsx";
import { KEYMAP, type KeyEntry } from "../../../window/keymap.ts";

const ENTRIES: readonly KeyEntry[] = KEYMAP;
/** What the drawn keypad does not say by itself. */
const SAID: readonly string[] = ["count.number", "count.find", "count.measure", "count.pause"];

/** Keys that need a word more than the drawn keypad has room for. */
export function CountKeyBar() {
  return <KeyLine entries={ENTRIES.filter((entry) => SAID.includes(entry.id))} />;
}
