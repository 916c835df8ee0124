import type { GridAction, Movement } from "./grid-action.ts";
import { isEditable, takesNumber } from "./grid-columns.ts";
import type { Editing, GridState } from "./grid-state.ts";
import { activeCell, recordAt, rowIdAt } from "./grid-state.ts";
import { isPadWithoutNumLock, type KeyFacts } from "./key-facts.ts";

/**
 * Where a key is pressed. `navigate`: no editor open; `replace`: typing over; `edit`: F2; `turret`: after `/`, while an
 * objective is chosen.
 */
type Mode = "navigate" | "replace" | "edit" | "turret";
/** `waiting`: the row's page is not here yet; `struck`: the row takes no more text. */
type Place = "reading" | "text" | "computed" | "waiting" | "struck";

export interface KeyAnswer {
  readonly action: GridAction | null;
  /** True: the key goes on to the editor, which the action has opened; false: it ends here. */
  readonly native: boolean;
  /** Text to put in the editor in place of the key. */
  readonly insert?: string;
}

interface Binding {
  /** A key, `digit`, `letter`, `printable`, or a chord such as `Ctrl+Home`. */
  readonly keys: readonly string[];
  readonly modes: readonly Mode[];
  readonly places?: readonly Place[];
  /** `empty`: only while the editor is empty or untouched. */
  readonly when?: "empty";
  readonly answer: (key: string) => KeyAnswer;
}

const act = (action: GridAction | null): (() => KeyAnswer) => {
  const answer = { action, native: false };
  return () => answer;
};
/** The editor opens (or stays open) and the same key lands in it natively. */
const into = (action: GridAction | null): (() => KeyAnswer) => {
  const answer = { action, native: true };
  return () => answer;
};

const MOVING: readonly Mode[] = ["navigate", "replace"];
const OPEN: readonly Mode[] = ["replace", "edit"];
const ANYWHERE: readonly Mode[] = ["navigate", "replace", "edit"];

const EXTENDING = {
  ArrowLeft: "left",
  ArrowRight: "right",
  ArrowUp: "up",
  ArrowDown: "down",
  Home: "rowStart",
  End: "rowEnd",
  PageUp: "pageUp",
  PageDown: "pageDown",
} as const satisfies Readonly<Record<string, Movement>>;

/**
 * Selection by the data grid pattern: Shift with a movement, Ctrl+Space, Shift+Space, Ctrl+A. Shift with Home, End and
 * the page keys extends too, as in spreadsheets. While an editor is open these keys are the text's.
 */
const SELECTING: readonly Binding[] = [
  ...Object.entries(EXTENDING).map(
    ([key, by]): Binding => ({
      keys: [`Shift+${key}`],
      modes: ["navigate"],
      answer: act({ type: "extend", by }),
    }),
  ),
  { keys: ["Ctrl+Shift+Home"], modes: ["navigate"], answer: act({ type: "extend", by: "first" }) },
  { keys: ["Ctrl+Shift+End"], modes: ["navigate"], answer: act({ type: "extend", by: "last" }) },
  { keys: ["Ctrl+Space"], modes: ["navigate"], answer: act({ type: "select", what: "columns" }) },
  { keys: ["Shift+Space"], modes: ["navigate"], answer: act({ type: "select", what: "rows" }) },
  { keys: ["Ctrl+a", "Ctrl+A"], modes: ["navigate"], answer: act({ type: "select", what: "all" }) },
];

/**
 * Every key of the grid; the first binding that fits wins. Movement and selection follow the data grid of the WAI-ARIA
 * Authoring Practices (w3c/aria-practices, grid pattern: focus does not wrap); the keypad's operators are our own. Three
 * keys differ, for eyes that stay at the eyepiece: a letter on a reading goes to the label of the row, Enter in an open
 * editor takes the reading and goes on to the next one, and a second F2 gives the arrows back to the grid without
 * closing the editor, so that what is half-typed stays open.
 */
export const GRID_KEYS: readonly Binding[] = [
  { keys: ["digit"], modes: ["turret"], answer: (key) => act({ type: "turretDigit", digit: key })() },
  { keys: ["Enter"], modes: ["turret"], answer: act({ type: "turretChoose" }) },
  { keys: ["Backspace"], modes: ["turret"], answer: act({ type: "turretBack" }) },
  { keys: ["Escape", "/"], modes: ["turret"], answer: act({ type: "turretCancel" }) },
  { keys: ["any"], modes: ["turret"], answer: act({ type: "turretOther" }) },

  { keys: ["Enter"], modes: ["navigate"], answer: act({ type: "open", byEnter: true }) },
  { keys: ["Enter"], modes: OPEN, answer: act({ type: "take", onward: "next" }) },
  { keys: ["Ctrl+Enter"], modes: ANYWHERE, answer: act({ type: "goTo", place: "note" }) },
  { keys: ["F2"], modes: ["navigate"], answer: act({ type: "open" }) },
  { keys: ["F2"], modes: OPEN, answer: act({ type: "switchMode" }) },
  { keys: ["F3"], modes: ANYWHERE, answer: act({ type: "nextRefused" }) },
  { keys: ["Escape"], modes: ANYWHERE, answer: act({ type: "cancel" }) },
  { keys: ["Tab"], modes: OPEN, answer: act({ type: "take", onward: "tab" }) },
  { keys: ["Shift+Tab"], modes: OPEN, answer: act({ type: "take", onward: "backTab" }) },

  { keys: ["ArrowLeft"], modes: MOVING, answer: act({ type: "move", by: "left" }) },
  { keys: ["ArrowRight"], modes: MOVING, answer: act({ type: "move", by: "right" }) },
  { keys: ["ArrowUp"], modes: MOVING, answer: act({ type: "move", by: "up" }) },
  { keys: ["ArrowDown"], modes: MOVING, answer: act({ type: "move", by: "down" }) },
  { keys: ["Home"], modes: MOVING, answer: act({ type: "move", by: "rowStart" }) },
  { keys: ["End"], modes: MOVING, answer: act({ type: "move", by: "rowEnd" }) },
  { keys: ["Ctrl+Home"], modes: ANYWHERE, answer: act({ type: "move", by: "first" }) },
  { keys: ["Ctrl+End"], modes: ANYWHERE, answer: act({ type: "move", by: "last" }) },
  { keys: ["PageUp"], modes: ANYWHERE, answer: act({ type: "move", by: "pageUp" }) },
  { keys: ["PageDown"], modes: ANYWHERE, answer: act({ type: "move", by: "pageDown" }) },
  ...SELECTING,
  { keys: ["Delete"], modes: ["navigate"], answer: act({ type: "askStrike" }) },
  { keys: ["Ctrl+z"], modes: MOVING, when: "empty", answer: act({ type: "undo" }) },
  { keys: ["Ctrl+y", "Ctrl+Z"], modes: MOVING, when: "empty", answer: act({ type: "redo" }) },
  { keys: ["Backspace"], modes: ["navigate"], answer: act({ type: "forget" }) },

  { keys: ["+"], modes: ["navigate"], answer: act({ type: "nextSpecimen" }) },
  { keys: ["+"], modes: OPEN, places: ["reading"], answer: act({ type: "take", onward: "specimen" }) },
  { keys: ["/"], modes: ["navigate"], answer: act({ type: "turretOpen" }) },
  { keys: ["/"], modes: OPEN, places: ["reading"], answer: act({ type: "take", onward: "turret" }) },
  { keys: ["*"], modes: ["navigate"], answer: act({ type: "repeatLabel" }) },
  { keys: ["*"], modes: OPEN, places: ["reading"], answer: act({ type: "repeatLabel" }) },
  { keys: ["-", "−"], modes: ["navigate"], places: ["reading"], answer: act({ type: "stepBack" }) },
  {
    keys: ["-", "−"],
    modes: ["replace"],
    places: ["reading"],
    when: "empty",
    answer: act({ type: "stepBack" }),
  },

  { keys: ["digit", "mark"], modes: ["navigate"], places: ["reading"], answer: into({ type: "typeOver" }) },
  { keys: ["digit"], modes: ["replace"], places: ["reading"], answer: into(null) },
  { keys: ["mark"], modes: ["replace"], places: ["reading"], answer: into(null) },
  {
    keys: ["letter"],
    modes: ["navigate"],
    places: ["reading", "computed"],
    answer: into({ type: "goTo", place: "label" }),
  },
  // What is no part of a number lands too, so that the reading is refused as typed and never as something else.
  { keys: ["printable"], modes: ["navigate"], places: ["reading"], answer: into({ type: "typeOver" }) },
  { keys: ["printable"], modes: ["navigate"], places: ["text"], answer: into({ type: "typeOver" }) },
  { keys: ["printable"], modes: OPEN, answer: into(null) },
  { keys: ["printable"], modes: ["navigate"], places: ["waiting"], answer: act({ type: "waiting" }) },
  { keys: ["printable"], modes: ["navigate"], places: ["struck"], answer: act({ type: "struck" }) },
];

const DIGIT = /^\d$/;
const LETTER = /^\p{L}$/u;

/** The names a press answers to, most particular first. */
function namesOf(facts: KeyFacts): readonly string[] {
  const held = `${facts.ctrl || facts.meta ? "Ctrl+" : ""}${facts.alt ? "Alt+" : ""}`;
  if (facts.key.length > 1) {
    return [`${held}${facts.shift ? "Shift+" : ""}${facts.key}`, "any"];
  }
  if (facts.key === " " && (held === "Ctrl+" || (held === "" && facts.shift))) {
    return held === "" ? ["Shift+Space", " ", "printable", "any"] : ["Ctrl+Space"];
  }
  // AltGr prints characters with Ctrl and Alt held: then both are part of the character.
  if (held !== "" && held !== "Ctrl+Alt+") return [held + facts.key];
  const names = [facts.key, "printable", "any"];
  if (facts.code === "NumpadDecimal" || facts.key === "." || facts.key === ",") names.unshift("mark");
  if (DIGIT.test(facts.key)) names.unshift("digit");
  if (LETTER.test(facts.key)) names.unshift("letter");
  return names;
}

const MODIFIERS = new Set(["Shift", "Control", "Alt", "AltGraph", "Meta", "CapsLock", "NumLock", "Dead"]);

function placeOf(state: GridState): Place {
  const column = activeCell(state)?.column;
  if (rowIdAt(state, state.cursor.row) === undefined) return "waiting";
  if (recordAt(state, state.cursor.row)?.struck) return "struck";
  if (!column || !isEditable(column)) return "computed";
  return takesNumber(column) ? "reading" : "text";
}

function modeOf(state: Pick<GridState, "turret" | "editing">): Mode {
  if (state.turret !== null) return "turret";
  return state.editing?.mode ?? "navigate";
}

const isUntouched = (editing: Editing | null): boolean =>
  editing === null || editing.text === "" || !editing.touched;

/**
 * What a key does in a state. Null: not the grid's key; leave it to the browser and the program.
 */
export function answerKey(
  state: GridState,
  facts: KeyFacts,
  table: readonly Binding[] = GRID_KEYS,
): KeyAnswer | null {
  if (facts.composing || MODIFIERS.has(facts.key)) return null;
  if (isPadWithoutNumLock(facts)) return { action: { type: "numLockOff" }, native: false };
  const names = namesOf(facts);
  const mode = modeOf(state);
  const place = placeOf(state);
  const found = table.find(
    (binding) =>
      binding.modes.includes(mode) &&
      (binding.places?.includes(place) ?? true) &&
      (binding.when === undefined || isUntouched(state.editing)) &&
      binding.keys.some((key) => names.includes(key)),
  );
  const answer = found?.answer(facts.key) ?? null;
  // Some layouts give the keypad's mark another character: here it is the decimal mark whatever it prints.
  const foreignMark = facts.code === "NumpadDecimal" && facts.key !== "." && facts.key !== ",";
  return answer?.native && foreignMark ? { ...answer, native: false, insert: "." } : answer;
}
