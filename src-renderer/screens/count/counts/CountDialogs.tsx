import type { Count } from "#core/contract/records/count.ts";
import { fibreRuleOf } from "#core/methods/fibre-rules.ts";
import { Button } from "../../../parts/Button.tsx";
import { CorrectionForm } from "../../../parts/form/CorrectionForm.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { SoundSettingsForm } from "../../../sound/SoundSettingsForm.tsx";
import { FibreDialog } from "../fibres/FibreDialog.tsx";
import type { CountContext } from "../state/count-context.ts";
import type { LiveCount } from "../state/live-counts.ts";
import { CloseDialog } from "./CloseDialog.tsx";
import { InputsForm } from "./InputsForm.tsx";
import { KeysForm } from "./KeysForm.tsx";
import { LinkSheetForm } from "./LinkSheetForm.tsx";
import { PositionForm } from "./PositionForm.tsx";

export type CountQuestion = "close" | "keys" | "inputs" | "link" | "sound" | "position" | "fibres";

export interface CountDialogsProps {
  readonly question: CountQuestion | null;
  readonly context: CountContext;
  readonly live: LiveCount;
  readonly onClose: () => void;
  readonly onReload: () => void;
  /** To the pictures of the field in hand. */
  readonly onPictures: () => void;
}

/** The questions of a count: its end, its keys, its inputs, its linked sheet; and what is heard. */
export function CountDialogs({ question, context, live, onClose, onReload, onPictures }: CountDialogsProps) {
  const { store } = live;
  const { count } = store.state();
  const changed = (next: Count): void => {
    store.dispatch({ type: "count", count: next });
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
          <KeysForm count={count} onSaved={changed} />
        </Dialog>
      );
    case "inputs":
      return (
        <Dialog title="Inputs of area and volume, and names" onClose={onClose} wide>
          <InputsForm
            count={count}
            definition={context.method.definition}
            onSaved={(next) => {
              changed(next);
              // A factor may have been frozen by this act.
              if (next.calibrationId !== count.calibrationId) onReload();
            }}
          />
          <CorrectionForm
            subject={{ kind: "count", id: count.id }}
            words={{ sample: count.sample, customer: count.customer, note: count.note }}
            onCorrected={onReload}
          />
        </Dialog>
      );
    case "fibres": {
      const rule = fibreRuleOf(context.method.definition.fibreRuleId);
      if (!rule) return null;
      const [caution] = context.method.definition.cautions;
      return <FibreDialog rule={rule} factor={context.factor} caution={caution ?? null} onClose={onClose} />;
    }
    case "sound":
      return (
        <Dialog title="Sound at this machine" onClose={onClose} wide>
          <SoundSettingsForm tryTone="goal" />
        </Dialog>
      );
    case "position": {
      const field = store.state().fields.length;
      return (
        <Dialog title={`Where field ${field} lies`} onClose={onClose}>
          <PositionForm
            store={store}
            known={context.state.fields[field - 1]?.position ?? null}
            onSaved={() => {
              onClose();
              onReload();
            }}
          />
          <p>
            <Button keyHint="Alt+I" onClick={onPictures}>
              Pictures of field {field} …
            </Button>
          </p>
        </Dialog>
      );
    }
    case "link":
      return (
        <Dialog title="Linked sheet" onClose={onClose}>
          <LinkSheetForm count={count} onSaved={changed} />
        </Dialog>
      );
  }
}
