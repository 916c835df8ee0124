import { type ReactNode, useState } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import { Button } from "../Button.tsx";
import { onReasonKey, ReasonChoices } from "./ReasonChoices.tsx";
import styles from "./ReasonQuestion.module.css";
import { TextField } from "./TextField.tsx";

export interface ReasonQuestionProps {
  /** Unique in the program. */
  readonly id: string;
  readonly reasons: readonly string[];
  readonly submit: string;
  /** What the keypad's minus does. */
  readonly minus: string;
  /** Why it could not be done. */
  readonly refused?: string | null;
  readonly onReason: (reason: string) => void;
  readonly onClose: () => void;
  /** What follows from the act, above the choices. */
  readonly children: ReactNode;
}

/** Asks for a reason inside a dialog: one digit chooses, any other reason is typed. */
export function ReasonQuestion({ id, reasons, submit, minus, refused = null, ...rest }: ReasonQuestionProps) {
  const { onReason, onClose, children } = rest;
  const [reason, setReason] = useState("");
  const [problem, setProblem] = useState<string | null>(null);
  const choices = { reasons, onChoose: onReason };
  const answer = (): void => {
    const parsed = Reason.safeParse(reason);
    if (parsed.success) onReason(parsed.data);
    else setProblem(parsed.error.issues[0]?.message ?? "Enter a reason in words.");
  };
  return (
    <form
      noValidate
      className={styles.question}
      onKeyDown={onReasonKey(choices, onClose)}
      onSubmit={(event) => {
        event.preventDefault();
        answer();
      }}
    >
      {children}
      <ReasonChoices {...choices} />
      <TextField
        id={id}
        label="Reason"
        hint={`A digit gives one of the reasons above; any other is typed. The keypad’s minus ${minus}.`}
        value={reason}
        onChange={setReason}
        error={problem ?? refused}
        autoFocus
      />
      <p className={styles.answers}>
        <Button look="main" type="submit" keyHint="Enter">
          {submit}
        </Button>
        <Button onClick={onClose} keyHint="Escape">
          Cancel
        </Button>
      </p>
    </form>
  );
}
