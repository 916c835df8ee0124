import type { KeyboardEvent } from "react";
import { Button } from "../Button.tsx";
import styles from "./NumberedChoices.module.css";
import { numberedKey } from "./numbered-key.ts";

export interface NumberedChoice {
  readonly key: string;
  readonly words: string;
  /** Said after the words, in softer ink. */
  readonly more?: string | undefined;
}

export interface NumberedChoicesProps {
  readonly choices: readonly NumberedChoice[];
  readonly onChoose: (key: string) => void;
  /** The keypad's minus. */
  readonly onLeave?: (() => void) | undefined;
  /** Takes the focus when drawn; without it the digits have to be handed on by who has the focus. */
  readonly autoFocus?: boolean;
}

/** Choices with a number each: one digit chooses, as do Tab and Enter. */
export function NumberedChoices({ choices, onChoose, onLeave, autoFocus = false }: NumberedChoicesProps) {
  return (
    <ol className={styles.choices} onKeyDown={onNumberedKey(choices, onChoose, onLeave ?? null)}>
      {choices.map(({ key, words, more }, at) => (
        <li key={key}>
          <Button
            autoFocus={autoFocus && at === 0}
            keyHint={at < 9 ? String(at + 1) : undefined}
            onClick={() => onChoose(key)}
          >
            <span>{words}</span> {more ? <span className={styles.more}>{more}</span> : null}
          </Button>
        </li>
      ))}
    </ol>
  );
}

/** Hears the digits and the minus for choices drawn inside an element. */
export function onNumberedKey(
  choices: readonly NumberedChoice[],
  onChoose: (key: string) => void,
  onLeave: (() => void) | null,
): (event: KeyboardEvent) => void {
  return (event) => {
    const answer = numberedKey(event.nativeEvent, choices.length);
    const chosen = typeof answer === "number" ? choices[answer - 1] : undefined;
    if (chosen) onChoose(chosen.key);
    else if (answer === "leave" && onLeave) onLeave();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
}
