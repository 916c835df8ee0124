import { Dialog } from "../layout/Dialog.tsx";
import { WhoIsAtTheBench } from "./WhoIsAtTheBench.tsx";

/** Changes the person at the bench from any screen. */
export function PersonDialog({ onClose }: { onClose: () => void }) {
  return (
    <Dialog title="Who is at the bench?" onClose={onClose}>
      <WhoIsAtTheBench onChosen={onClose} />
    </Dialog>
  );
}
