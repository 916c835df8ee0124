import { KeyLine } from "../../parts/KeyLine.tsx";
import { KEYMAP, type KeyEntry } from "../../window/keymap.ts";

const ENTRIES: readonly KeyEntry[] = KEYMAP;

/** The keys of the daily loop, always in sight. */
export function KeyBar() {
  return <KeyLine folds entries={ENTRIES.filter((entry) => entry.group === "Measure")} />;
}
