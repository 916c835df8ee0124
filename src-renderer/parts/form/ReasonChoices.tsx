import type { KeyboardEvent } from "react";
import { NumberedChoices, onNumberedKey } from "../layout/NumberedChoices.tsx";

interface ReasonChoicesProps {
  readonly reasons: readonly string[];
  readonly onChoose: (reason: string) => void;
}

const choicesOf = (reasons: readonly string[]) => reasons.map((words) => ({ key: words, words }));

/** Reasons with a number each. */
export function ReasonChoices({ reasons, onChoose }: ReasonChoicesProps) {
  if (reasons.length === 0) return null;
  return <NumberedChoices choices={choicesOf(reasons)} onChoose={onChoose} />;
}

/** Hears their digits in the field beside them while it is empty; `onLeave`: the keypad's minus. */
export function onReasonKey(
  { reasons, onChoose }: ReasonChoicesProps,
  onLeave: (() => void) | null,
): (event: KeyboardEvent) => void {
  return onNumberedKey(choicesOf(reasons), onChoose, onLeave);
}
