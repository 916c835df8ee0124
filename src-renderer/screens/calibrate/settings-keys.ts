import { isPadWithoutNumLock, type KeyFacts } from "../../grid/key-facts.ts";
import { SETTING_KEYS, type SettingPlace } from "./settings-rows.ts";

export type SettingsAnswer =
  | { readonly go: SettingPlace }
  | { readonly say: "numLockOff" }
  /** A key that must not land in the cell and has nothing to do there. */
  | { readonly say: "nothing" };

interface Cell extends SettingPlace {
  /** What the cell holds. */
  readonly text: string;
  /** Rows on screen. */
  readonly rows: number;
}

type Move = (cell: Cell) => SettingPlace | null;

/** Cells are counted on through the rows: four to a setting. */
const by =
  (cells: number): Move =>
  ({ row, key, rows }) => {
    const at = row * SETTING_KEYS.length + SETTING_KEYS.indexOf(key) + cells;
    const next = SETTING_KEYS[at % SETTING_KEYS.length];
    if (at < 0 || at >= rows * SETTING_KEYS.length || !next) return null;
    return { row: Math.floor(at / SETTING_KEYS.length), key: next };
  };

const toRow =
  (rows: number): Move =>
  ({ row, key, rows: count }) =>
    row + rows >= 0 && row + rows < count ? { row: row + rows, key } : null;

const toNextSetting: Move = ({ row, rows }) => (row + 1 < rows ? { row: row + 1, key: "reticleLeft" } : null);

interface Binding {
  readonly keys: readonly string[];
  /** Only when the cell is empty, so that the key cannot belong to the number. */
  readonly whenEmpty?: boolean;
  /** Only when the cell holds something. */
  readonly whenFull?: boolean;
  readonly move: Move;
}

/** The keys of the settings table; everything else is the input's own. */
export const SETTINGS_KEYS: readonly Binding[] = [
  { keys: ["Enter"], whenFull: true, move: by(1) },
  { keys: ["+"], move: toNextSetting },
  { keys: ["-", "−"], whenEmpty: true, move: by(-1) },
  { keys: ["ArrowUp"], move: toRow(-1) },
  { keys: ["ArrowDown"], move: toRow(1) },
];

/** What a key does in a cell; null: it is the input's own. */
export function answerSettingsKey(facts: KeyFacts, cell: Cell): SettingsAnswer | null {
  if (facts.composing || facts.ctrl || facts.alt || facts.meta) return null;
  if (isPadWithoutNumLock(facts)) return { say: "numLockOff" };
  const isEmpty = cell.text.trim() === "";
  const found = SETTINGS_KEYS.find(
    (binding) =>
      binding.keys.includes(facts.key) && (!binding.whenEmpty || isEmpty) && (!binding.whenFull || !isEmpty),
  );
  if (!found) return facts.key === "Enter" ? { say: "nothing" } : null;
  const go = found.move(cell);
  return go ? { go } : { say: "nothing" };
}
