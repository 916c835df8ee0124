import type { CountCategory } from "#core/contract/records/count-method.ts";
import { readObjects } from "#core/counting/inputs/counting-unit.ts";
import { InputError } from "#core/quantity/input-error.ts";

/** What a press needs to say; plain facts, no event. */
export interface PadKey {
  readonly code: string;
  readonly repeat: boolean;
  /** Ctrl, Alt or Meta is held: the key belongs to a command. */
  readonly held: boolean;
}

/** What stands before the next category key: nothing, a half, or a number being typed or complete. */
export type PadPrefix =
  | { readonly kind: "one" }
  | { readonly kind: "half" }
  | { readonly kind: "number"; readonly typed: string; readonly complete: boolean };

export const NO_PREFIX: PadPrefix = { kind: "one" };

export type PadCommand =
  | { readonly kind: "press"; readonly category: CountCategory; readonly weight: string }
  | { readonly kind: "field" }
  | { readonly kind: "undo" }
  | { readonly kind: "measure" }
  | { readonly kind: "find" }
  | { readonly kind: "prefix"; readonly prefix: PadPrefix }
  | { readonly kind: "refuse"; readonly words: string };

export const FIELD_CODES: readonly string[] = ["NumpadEnter", "Enter"];
export const UNDO_CODES: readonly string[] = ["NumpadSubtract", "Backspace"];
export const NUMBER_CODE = "NumpadAdd";
export const HALF_CODE = "NumpadMultiply";
export const MEASURE_CODE = "NumpadDivide";
/** Opens the search for a category; `.` of the keypad where no category lies under it. */
export const FIND_CODES: readonly string[] = ["Space", "NumpadDecimal", "NumpadComma"];

const RESERVED: readonly string[] = [
  ...FIELD_CODES,
  ...UNDO_CODES,
  NUMBER_CODE,
  HALF_CODE,
  MEASURE_CODE,
  "Escape",
  "Tab",
  "Space",
  "NumLock",
];
const MAY_BE_BOUND = /^(?:Numpad(?:[0-9]|Decimal|Comma)|Key[A-Z]|Digit[0-9])$/;
const DIGIT = /^(?:Numpad|Digit)([0-9])$/;
/** More digits than any count has; what they come to is judged at the key of the category. */
const LONGEST_NUMBER = 20;

/** Why a key can't be given to a category; null when it can. */
export function whyNotBindable(code: string): string | null {
  if (RESERVED.includes(code)) return "has a meaning of its own while counting: choose another";
  return MAY_BE_BOUND.test(code)
    ? null
    : "is not a digit or letter: choose one of the keypad or the keyboard";
}

/** A key as it is engraved. */
export function keyWords(code: string): string {
  if (code === "NumpadDecimal" || code === "NumpadComma") return ".";
  return code.replace(/^(?:Numpad|Key|Digit)/, "");
}

/** True for a key of the numeric keypad. */
export function isOnKeypad(code: string): boolean {
  return code.startsWith("Numpad");
}

const MARK_CODES: readonly string[] = ["NumpadDecimal", "NumpadComma", "Period", "Comma"];
/** Keys that type something; while a number is being typed they belong to it or are refused. */
const TYPES =
  /^(?:Key[A-Z]|Digit[0-9]|Numpad[0-9]|Minus|Equal|Semicolon|Quote|Backquote|Slash|Bracket\w+|Backslash|Space)$/;
const HALF = "0.5";
const GIVE_UP = "press - to give it up";

/** A key while a number is typed: a digit or the mark joins it as typed; what cannot join it is refused. */
function numberTyped(
  prefix: Extract<PadPrefix, { kind: "number" }>,
  code: string,
  isCategory: boolean,
): PadCommand | null {
  if (prefix.complete) return null;
  const digit = DIGIT.exec(code)?.[1];
  const isMark = MARK_CODES.includes(code);
  if (digit === undefined && !isMark) {
    if (isCategory || !TYPES.test(code)) return null;
    return {
      kind: "refuse",
      words: `“${keyWords(code)}” is no part of the number ${prefix.typed}: ${GIVE_UP}.`,
    };
  }
  if (isMark && prefix.typed.includes(".")) {
    return { kind: "refuse", words: `${prefix.typed} has a decimal mark already: ${GIVE_UP}.` };
  }
  const typed = prefix.typed + (digit ?? ".");
  if (typed.length > LONGEST_NUMBER) {
    return { kind: "refuse", words: "That is longer than any count: - starts again." };
  }
  return { kind: "prefix", prefix: { ...prefix, typed } };
}

const NOTHING_TYPED: PadCommand = {
  kind: "refuse",
  words: "Type the number of objects first, or - to give it up.",
};

function numberKey(prefix: PadPrefix): PadCommand {
  if (prefix.kind !== "number") {
    return { kind: "prefix", prefix: { kind: "number", typed: "", complete: false } };
  }
  if (prefix.complete) {
    return { kind: "refuse", words: `${prefix.typed} is waiting for its key: press it, or ${GIVE_UP}.` };
  }
  if (!(Number(prefix.typed) > 0)) return NOTHING_TYPED;
  return { kind: "prefix", prefix: { ...prefix, complete: true } };
}

/** Why a category does not take a number, in words that follow its name; empty: there is none. Null: it does. */
function whyNotTaken(typed: string, category: CountCategory): string | null {
  try {
    return readObjects("weight", typed, category) > 0 ? null : "";
  } catch (error) {
    if (error instanceof InputError) return error.reason;
    throw error;
  }
}

/** What a category's key means after a prefix. */
export function pressOf(category: CountCategory, prefix: PadPrefix): PadCommand {
  if (prefix.kind === "half") {
    return whyNotTaken(HALF, category) === null
      ? { kind: "press", category, weight: HALF }
      : { kind: "refuse", words: `“${category.name}” does not take halves: press its key alone.` };
  }
  if (prefix.kind === "one") return { kind: "press", category, weight: "1" };
  const { typed } = prefix;
  const problem = whyNotTaken(typed, category);
  if (problem === "") return NOTHING_TYPED;
  return problem === null
    ? { kind: "press", category, weight: typed }
    : { kind: "refuse", words: `“${category.name}” ${problem}: ${GIVE_UP}.` };
}

function fixedKey(code: string, prefix: PadPrefix): PadCommand | null {
  if (UNDO_CODES.includes(code) || code === "Escape") {
    if (prefix.kind !== "one") return { kind: "prefix", prefix: NO_PREFIX };
    return code === "Escape" ? null : { kind: "undo" };
  }
  if (FIELD_CODES.includes(code)) {
    return prefix.kind === "one"
      ? { kind: "field" }
      : { kind: "refuse", words: "A number or a half is waiting for its key: press it, or - to give it up." };
  }
  if (code === NUMBER_CODE) return numberKey(prefix);
  if (code === HALF_CODE) {
    if (prefix.kind === "number") {
      return {
        kind: "refuse",
        words: `½ is no part of a number: type ${prefix.typed || "3"}.5, or ${GIVE_UP}.`,
      };
    }
    return { kind: "prefix", prefix: prefix.kind === "half" ? NO_PREFIX : { kind: "half" } };
  }
  if (FIND_CODES.includes(code)) return { kind: "find" };
  return code === MEASURE_CODE ? { kind: "measure" } : null;
}

/** A key that types something and lies under no category: the object would be lost without a word. */
function unbound(code: string): PadCommand | null {
  if (!TYPES.test(code) && !MARK_CODES.includes(code)) return null;
  return { kind: "refuse", words: `“${keyWords(code)}” is the key of no category: nothing was counted.` };
}

/** Keys that print what a key of the keypad prints. */
const PRINTED: Readonly<Record<string, string>> = {
  "+": NUMBER_CODE,
  "*": HALF_CODE,
  "/": MEASURE_CODE,
  "-": "NumpadSubtract",
  ".": "NumpadDecimal",
  ",": "NumpadDecimal",
};

/**
 * The place on the keypad that a key stands for: on a keyboard without one, the digits of the top row and the signs do the
 * same. A key that a category has for itself stays itself.
 */
export function placeOnPad(
  { code, key }: Pick<KeyboardEvent, "code" | "key">,
  categories: readonly CountCategory[],
): string {
  if (isOnKeypad(code) || categories.some((one) => one.keyCode === code)) return code;
  const digit = /^Digit([0-9])$/.exec(code)?.[1];
  return digit === undefined ? (PRINTED[key] ?? code) : `Numpad${digit}`;
}

/**
 * What a key means. Keys are known by their place on the board, so neither layout nor NumLock matters. A colony is
 * `+`, its number, `+`, its key: without the second `+` a digit could be number or category. Null: not a key of the pad.
 */
export function padCommand(
  { code, repeat, held }: PadKey,
  prefix: PadPrefix,
  categories: readonly CountCategory[],
): PadCommand | null {
  if (held) return null;
  const category = categories.find((one) => one.keyCode === code);
  const fixed = category ? null : fixedKey(code, prefix);
  const digit = prefix.kind === "number" ? numberTyped(prefix, code, category !== undefined) : null;
  const command = digit ?? fixed ?? (category ? pressOf(category, prefix) : null) ?? unbound(code);
  if (command && repeat) {
    return { kind: "refuse", words: "A key held down counts once: the repeats were left out." };
  }
  return command;
}
