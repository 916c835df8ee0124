import type { Eyes } from "#core/contract/records/eyes.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import type { SheetContext } from "../sheet-context.ts";
import { ChangerDialog } from "./ChangerDialog.tsx";
import { EyesDialog } from "./EyesDialog.tsx";

export interface TrainDialogsProps {
  readonly open: "changer" | "eyes" | null;
  readonly store: GridStore;
  readonly context: SheetContext;
  readonly objectiveId: string;
  readonly person: Person | null;
  readonly eyes: Eyes | null;
  readonly onTrainChanged: () => Promise<void>;
  readonly onConfirmed: () => void;
  readonly onClose: () => void;
}

/** What is asked about the train in use in a dialog of its own: the setting of the changer, or the person's eyes. */
export function TrainDialogs({ open, onTrainChanged, onConfirmed, ...about }: TrainDialogsProps) {
  const { store, context, objectiveId, person, eyes, onClose } = about;
  if (open === "changer") {
    return (
      <ChangerDialog
        store={store}
        context={context}
        onChanged={() => void onTrainChanged().then(onClose)}
        onClose={onClose}
      />
    );
  }
  if (open === null) return null;
  return (
    <EyesDialog
      key={objectiveId}
      sheet={context.sheet}
      objectiveId={objectiveId}
      person={person}
      eyes={eyes}
      onConfirmed={() => {
        onClose();
        onConfirmed();
      }}
      onClose={onClose}
    />
  );
}
