import { Dialog } from "../layout/Dialog.tsx";
import { usePeopleHere } from "./use-people-here.ts";
import { WhoIsAtTheBench } from "./WhoIsAtTheBench.tsx";

/** Changes the person at the bench from any screen. */
export function PersonDialog({ onClose }: { onClose: () => void }) {
  const isWaiting = usePeopleHere() === undefined;
  return (
    <Dialog title="Who is at the bench?" onClose={onClose} isWaiting={isWaiting}>
      <WhoIsAtTheBench onChosen={onClose} />
    </Dialog>
  );
}
