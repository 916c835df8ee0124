import { useLayoutEffect, useRef, useState } from "react";
import type { Count } from "#core/contract/records/count.ts";
import type { CallError } from "#core/contract/reply.ts";
import { countsByFields } from "#core/counting/inputs/field-area.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { Button } from "../../../parts/Button.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import {
  type NumberedChoice,
  NumberedChoices,
  onNumberedKey,
} from "../../../parts/layout/NumberedChoices.tsx";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import type { CountContext } from "../state/count-context.ts";
import type { LiveCount } from "../state/live-counts.ts";
import styles from "./CountAtWork.module.css";

interface CloseDialogProps {
  readonly context: CountContext;
  readonly live: LiveCount;
  readonly onClosed: (count: Count) => void;
  readonly onClose: () => void;
}

interface Question {
  readonly words: string;
  readonly choices: readonly NumberedChoice[];
}

/**
 * What must be known of the field in hand. An empty one is asked about whatever the method, because a field begun by a last
 * Enter and a field looked at without an object look the same.
 */
function questionOf(field: number, isEmpty: boolean, byFields: boolean): Question | null {
  if (isEmpty && (byFields || field > 1)) {
    return {
      words: `Field ${field} is empty. Was it looked at to its end, with nothing in it, or was it only begun?`,
      choices: [
        { key: "counted", words: `Looked at: field ${field} counts, with 0` },
        { key: "left", words: `Only begun: field ${field} does not count` },
      ],
    };
  }
  if (!byFields) return null;
  return {
    words: `Was field ${field} counted to its end? If not, its objects are part of no density.`,
    choices: [
      { key: "counted", words: `Close: field ${field} is finished` },
      { key: "left", words: `Close: field ${field} is not finished` },
    ],
  };
}

/** Ends a count. Where there is a question about the last field, one digit answers it and closes; Enter never does. */
export function CloseDialog({ context, live, onClosed, onClose }: CloseDialogProps) {
  const client = useClient();
  const [requestId] = useState(newRequestId);
  const [error, setError] = useState<CallError | null>(null);
  const [busy, setBusy] = useState(false);
  const { store } = live;
  const { fields } = store.state();
  const isEmpty = Object.values(fields.at(-1)?.presses ?? {}).every((presses) => presses === 0);
  const question = questionOf(fields.length, isEmpty, countsByFields(context.method.definition));
  const close = async (lastFieldCounted: boolean): Promise<void> => {
    if (busy) return;
    setBusy(true);
    await store.settled();
    const reply = await client("counts.close", {
      requestId,
      countId: store.state().count.id,
      lastFieldCounted,
    });
    setBusy(false);
    if (reply.ok) onClosed(reply.value);
    else setError(reply.error);
  };
  return (
    <Dialog title="Close the count?" onClose={onClose}>
      <div className={styles.question}>
        <p>Its results are frozen; opening it again needs a reason.</p>
        {error ? <RefusalNotice error={error} /> : null}
        {question ? (
          <LastField question={question} onAnswer={(answer) => void close(answer === "counted")} />
        ) : (
          <p className={styles.answers}>
            <Button look="main" autoFocus disabled={busy} onClick={() => void close(true)}>
              Close the count
            </Button>
          </p>
        )}
      </div>
    </Dialog>
  );
}

/** Has the focus itself: an Enter too many, the key of a new field, answers nothing. */
function LastField({ question, onAnswer }: { question: Question; onAnswer: (answer: string) => void }) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => place.current?.focus(), []);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it hands the digits on to its buttons
    <div
      ref={place}
      tabIndex={-1}
      className={styles.question}
      onKeyDown={onNumberedKey(question.choices, onAnswer, null)}
    >
      <p>{question.words}</p>
      <NumberedChoices choices={question.choices} onChoose={onAnswer} />
    </div>
  );
}
