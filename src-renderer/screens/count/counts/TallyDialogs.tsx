import type { Tally } from "#core/contract/records/tally.ts";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { SoundSettingsForm } from "../../../sound/SoundSettingsForm.tsx";
import type { LiveTally } from "../state/live-tallies.ts";
import type { TallyContext } from "../state/tally-context.ts";
import { CloseDialog } from "./CloseDialog.tsx";
import { InputsForm } from "./InputsForm.tsx";
import { KeysForm } from "./KeysForm.tsx";
import { LinkSheetForm } from "./LinkSheetForm.tsx";
import { PositionForm } from "./PositionForm.tsx";

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
