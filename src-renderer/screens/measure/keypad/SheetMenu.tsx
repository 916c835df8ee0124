import { useState } from "react";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { type NumberedChoice, NumberedChoices } from "../../../parts/layout/NumberedChoices.tsx";
import { PersonDialog } from "../../../parts/people/PersonDialog.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { useCommandsBelow } from "../../../window/use-command.tsx";

const CHOICES = [
  { key: "person", words: "Change the person at the bench", more: "F4" },
  { key: "train", words: "Confirm the optical train", more: undefined },
  { key: "second", words: "Second readings of this sheet", more: undefined },
  { key: "convert", words: "Convert rows read without a factor", more: undefined },
  { key: "overdue", words: "Say why something overdue is used", more: "Alt+U" },
  { key: "pictures", words: "Pictures of this row", more: "Alt+I" },
  { key: "positions", words: "Positions of rows", more: "Alt+M" },
  { key: "eyes", words: "Your dioptre, sleeve and glasses", more: undefined },
] as const satisfies readonly NumberedChoice[];

export interface SheetMenuProps {
  readonly sheetId: string;
  readonly onConfirmTrain: () => void;
  readonly onConvert: () => void;
  readonly onPictures: () => void;
  readonly onPositions: () => void;
  readonly onEyes: () => void;
  readonly onClose: () => void;
}

/** What the keypad reaches with `/` and `0`: acts that are rarer than a key each. */
export function SheetMenu(props: SheetMenuProps) {
  const { sheetId, onClose } = props;
  const navigation = useNavigation();
  const commands = useCommandsBelow();
  // Only where something is past its date and nobody has said why.
  const choices = commands.ids.includes("overdue.say")
    ? CHOICES
    : CHOICES.filter(({ key }) => key !== "overdue");
  const [isPerson, setPerson] = useState(false);
  const choose = (key: string): void => {
    if (key === "person") {
      setPerson(true);
      return;
    }
    onClose();
    if (key === "train") props.onConfirmTrain();
    else if (key === "convert") props.onConvert();
    else if (key === "pictures") props.onPictures();
    else if (key === "positions") props.onPositions();
    else if (key === "eyes") props.onEyes();
    else if (key === "overdue") commands.run("overdue.say");
    else navigation.go({ screen: "measure", sheetId, second: "list" });
  };
  if (isPerson) return <PersonDialog onClose={onClose} />;
  return (
    <Dialog title="More" onClose={onClose}>
      <NumberedChoices choices={choices} onChoose={choose} onLeave={onClose} autoFocus />
    </Dialog>
  );
}
