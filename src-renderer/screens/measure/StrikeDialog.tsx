import { useState } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import { Button } from "../../parts/Button.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Dialog } from "../../parts/layout/Dialog.tsx";
import { NumberedChoices, onNumberedKey } from "../../parts/layout/NumberedChoices.tsx";
import { STRIKE_REASONS } from "./keypad/strike-reasons.ts";
import styles from "./MeasureScreen.module.css";

export interface StrikeQuestion {
  readonly rowId: string;
  readonly ordinal: number;
}

/** Asks why a row is to be struck; it stays on the sheet, marked, with the reason. */
export function StrikeDialog({
  question,
  onStrike,
  onClose,
}: {
  question: StrikeQuestion;
  onStrike: (reason: string) => void;
  onClose: () => void;
}) {
  const [reason, setReason] = useState("");
  const [problem, setProblem] = useState<string | null>(null);
  const submit = (): void => {
    const parsed = Reason.safeParse(reason);
    if (parsed.success) onStrike(parsed.data);
    else setProblem(parsed.error.issues[0]?.message ?? "Enter a reason in words.");
  };
  const choose = (key: string): void => {
    const reason = STRIKE_REASONS.find((one) => one.key === key);
    if (reason) onStrike(reason.words);
  };
  return (
    <Dialog title={`Strike row ${question.ordinal}?`} onClose={onClose}>
      <form
        noValidate
        className={styles.question}
        onKeyDown={onNumberedKey(STRIKE_REASONS, choose, onClose)}
        onSubmit={(event) => {
          event.preventDefault();
          submit();
        }}
      >
        <p>It stays on the sheet, marked as struck, and counts in no statistics.</p>
        <NumberedChoices choices={STRIKE_REASONS} onChoose={choose} />
        <TextField
          id="strike-reason"
          label="Reason"
          hint="A digit gives one of the reasons above; any other is typed. The keypad’s minus leaves the row as it is."
          value={reason}
          onChange={setReason}
          error={problem}
          autoFocus
        />
        <p className={styles.answers}>
          <Button look="main" type="submit" keyHint="Enter">
            Strike the row
          </Button>
          <Button onClick={onClose} keyHint="Escape">
            Cancel
          </Button>
        </p>
      </form>
    </Dialog>
  );
}
