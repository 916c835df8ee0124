import { KEY_GROUPS, KeysOf } from "../handbook/KeysOf.tsx";
import { Dialog } from "../parts/layout/Dialog.tsx";
import { useCommand } from "../window/use-command.tsx";

/** Every key of the program. */
export function KeyMapDialog({ onClose }: { onClose: () => void }) {
  return (
    <Dialog title="Keys" onClose={onClose} wide>
      <CloseOnSameKey onClose={onClose} />
      <KeysOf groups={KEY_GROUPS} />
    </Dialog>
  );
}

function CloseOnSameKey({ onClose }: { onClose: () => void }) {
  useCommand("app.keys", onClose);
  return null;
}
