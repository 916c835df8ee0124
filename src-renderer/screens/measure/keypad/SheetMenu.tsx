import { useState } from "react";
import { PersonDialog } from "../../../app/PersonDialog.tsx";
import { Dialog } from "../../../parts/Dialog.tsx";
import { type NumberedChoice, NumberedChoices } from "../../../parts/NumberedChoices.tsx";

const CHOICES = [
  { key: "person", words: "Change the person at the bench", more: "F4" },
  { key: "train", words: "Confirm the optical train", more: undefined },
] as const satisfies readonly NumberedChoice[];

export interface SheetMenuProps {
  readonly onConfirmTrain: () => void;
  readonly onClose: () => void;
}

/** What the keypad reaches with `/` and `0`: acts that are rarer than a key each. */
export function SheetMenu({ onConfirmTrain, onClose }: SheetMenuProps) {
  const [isPerson, setPerson] = useState(false);
  const choose = (key: string): void => {
    if (key === "person") {
      setPerson(true);
      return;
    }
    onClose();
    onConfirmTrain();
  };
  if (isPerson) return <PersonDialog onClose={onClose} />;
  return (
    <Dialog title="More" onClose={onClose}>
      <NumberedChoices choices={CHOICES} onChoose={choose} onLeave={onClose} autoFocus />
    </Dialog>
  );
}
