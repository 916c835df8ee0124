/** What the grid needs to know of a key press: plain facts, no event. */
export interface KeyFacts {
  readonly key: string;
  readonly code: string;
  readonly ctrl: boolean;
  readonly alt: boolean;
  readonly shift: boolean;
  readonly meta: boolean;
  /** State of NumLock at the press. */
  readonly numLock: boolean;
  /** An input method is composing: the key belongs to it. */
  readonly composing: boolean;
}

type KeyEventLike = Pick<
  KeyboardEvent,
  "key" | "code" | "ctrlKey" | "altKey" | "shiftKey" | "metaKey" | "isComposing" | "getModifierState"
>;

export function keyFacts(event: KeyEventLike): KeyFacts {
  return {
    key: event.key,
    code: event.code,
    ctrl: event.ctrlKey,
    alt: event.altKey,
    shift: event.shiftKey,
    meta: event.metaKey,
    numLock: event.getModifierState("NumLock"),
    composing: event.isComposing,
  };
}

const PAD_DIGIT_OR_MARK = /^Numpad(?:[0-9]|Decimal)$/;
const PAD_WITHOUT_NUMLOCK = new Set([
  "Home",
  "End",
  "ArrowLeft",
  "ArrowRight",
  "ArrowUp",
  "ArrowDown",
  "PageUp",
  "PageDown",
  "Insert",
  "Delete",
  "Clear",
]);

/** True for a digit or mark of the keypad that arrives as a movement because NumLock is off. */
export function isPadWithoutNumLock(facts: KeyFacts): boolean {
  return (
    PAD_DIGIT_OR_MARK.test(facts.code) && PAD_WITHOUT_NUMLOCK.has(facts.key) && !facts.numLock && !facts.shift
  );
}

export const NUMLOCK_OFF =
  "NumLock is off: the keypad types no digits. Press NumLock, then type the reading again.";
