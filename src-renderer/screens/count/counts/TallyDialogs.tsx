import { useState } from "react";
import type { Tally } from "#core/contract/records/tally.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { countsByFields } from "#core/counting/inputs/field-area.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { Button } from "../../../parts/Button.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import { SoundSettingsForm } from "../../../sound/SoundSettingsForm.tsx";
import type { LiveTally } from "../state/live-tallies.ts";
import type { TallyContext } from "../state/tally-context.ts";
import { InputsForm } from "./InputsForm.tsx";
import { KeysForm } from "./KeysForm.tsx";
import { LinkSheetForm } from "./LinkSheetForm.tsx";
import { PositionForm } from "./PositionForm.tsx";
import styles from "./TallyAtWork.module.css";

export type TallyQuestion = "close" | "keys" | "inputs" | "link" | "sound" | "position";

export interface TallyDialogsProps {
  readonly question: TallyQuestion | null;
  readonly context: TallyContext;
  readonly live: LiveTally;
  readonly onClose: () => void;
  readonly onReload: () => void;
}

/** The questions of a count: its end, its keys, its inputs, its linked sheet; and what is heard. */
export function TallyDialogs({ question, context, live, onClose, onReload }: TallyDialogsProps) {
  const { store } = live;
  const { tally } = store.state();
  const changed = (next: Tally): void => {
    store.dispatch({ type: "tally", tally: next });
    onClose();
  };
  switch (question) {
    case null:
      return null;
    case "close":
      return <CloseDialog context={context} live={live} onClosed={changed} onClose={onClose} />;
    case "keys":
      return (
        <Dialog title="Change the keys of this count" onClose={onClose} wide>
          <KeysForm tally={tally} onSaved={changed} />
        </Dialog>
      );
    case "inputs":
      return (
        <Dialog title="Inputs of area and volume" onClose={onClose} wide>
          <InputsForm
            tally={tally}
            definition={context.method.definition}
            onSaved={(next) => {
              changed(next);
              // A factor may have been frozen by this act.
              if (next.calibrationId !== tally.calibrationId) onReload();
            }}
          />
        </Dialog>
      );
    case "sound":
      return (
        <Dialog title="Sound at this machine" onClose={onClose} wide>
          <SoundSettingsForm tryTone="goal" />
        </Dialog>
      );
    case "position":
      return (
        <Dialog title={`Where field ${store.state().fields.length} lies`} onClose={onClose}>
          <PositionForm
            store={store}
            onSaved={() => {
              onClose();
              onReload();
            }}
          />
        </Dialog>
      );
    case "link":
      return (
        <Dialog title="Linked sheet" onClose={onClose}>
          <LinkSheetForm tally={tally} onSaved={changed} />
        </Dialog>
      );
  }
}

interface CloseDialogProps {
  readonly context: TallyContext;
  readonly live: LiveTally;
  readonly onClosed: (tally: Tally) => void;
  readonly onClose: () => void;
}

function CloseDialog({ context, live, onClosed, onClose }: CloseDialogProps) {
  const client = useClient();
  const [requestId] = useState(newRequestId);
  const [error, setError] = useState<CallError | null>(null);
  const [busy, setBusy] = useState(false);
  const { store } = live;
  const field = store.state().fields.length;
  const byFields = countsByFields(context.method.definition);
  const close = async (lastFieldCounted: boolean): Promise<void> => {
    setBusy(true);
    await store.settled();
    const tallyId = store.state().tally.id;
    const reply: Reply<Tally> = await client("tallies.close", { requestId, tallyId, lastFieldCounted });
    setBusy(false);
    if (reply.ok) onClosed(reply.value);
    else setError(reply.error);
  };
  return (
    <Dialog title="Close the count?" onClose={onClose}>
      <div className={styles.question}>
        <p>
          Its results are frozen; opening it again needs a reason.
          {byFields
            ? ` Was field ${field} counted to its end? If not, its objects are part of no density.`
            : ""}
        </p>
        {error ? <Notice kind="fault" live title={error.message} hint={error.hint} /> : null}
        <p className={styles.answers}>
          <Button look="main" autoFocus disabled={busy} onClick={() => void close(true)}>
            {byFields ? `Close: field ${field} is finished` : "Close the count"}
          </Button>
          {byFields ? (
            <Button disabled={busy} onClick={() => void close(false)}>
              Close: field {field} is not finished
            </Button>
          ) : null}
        </p>
      </div>
    </Dialog>
  );
}
