import { useEffect, useState } from "react";
import { Dialog } from "../../parts/layout/Dialog.tsx";
import { chordOf } from "../../window/key-chord.ts";
import { chordInWords } from "../../window/key-words.ts";
import { type CommandId, type KeyEntry, keysOf } from "../../window/keymap.ts";
import { whyNotThisKey } from "../../window/own-keys.ts";

const HELD_ALONE = new Set(["Control", "Alt", "Shift", "Meta", "AltGraph"]);

/** Waits for one key press and says at once when a command cannot have it. */
export function NewKeyDialog({
  command,
  onKey,
  onClose,
}: {
  readonly command: KeyEntry & { readonly id: CommandId };
  readonly onKey: (chord: string) => void;
  readonly onClose: () => void;
}) {
  const [refused, setRefused] = useState<string | null>(null);
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      if (HELD_ALONE.has(event.key) || event.key === "Escape" || event.isComposing) return;
      // Tab goes to “Close”, and Enter and Space press it.
      if (["Tab", "Shift+Tab", "Enter", "Space"].includes(chordOf(event))) return;
      event.preventDefault();
      event.stopPropagation();
      const chord = chordOf(event);
      const why = whyNotThisKey(command.id, chord);
      if (why === null) onKey(chord);
      else setRefused(why);
    };
    window.addEventListener("keydown", onKeyDown, { capture: true });
    return () => window.removeEventListener("keydown", onKeyDown, { capture: true });
  }, [command, onKey]);
  return (
    <Dialog title={`New key: ${command.words}`} onClose={onClose}>
      <p>
        Press the key, for example with Alt held. Now it is{" "}
        {keysOf(command.id).map((chord) => (
          <kbd key={chord}>{chordInWords(chord)}</kbd>
        ))}
        .
      </p>
      <p role="alert">{refused}</p>
    </Dialog>
  );
}
