import { useState } from "react";
import { handbookPage, keyGroupsFor, pageFor } from "../handbook/handbook-pages.ts";
import { KeysOf } from "../handbook/KeysOf.tsx";
import { PageText } from "../handbook/PageText.tsx";
import { Button } from "../parts/Button.tsx";
import { Dialog } from "../parts/layout/Dialog.tsx";
import { keysOf } from "../window/keymap.ts";
import type { HandbookPageName, Location } from "../window/location.ts";
import { useCommand } from "../window/use-command.tsx";

export interface HelpDialogProps {
  /** Where the person is. */
  readonly location: Location;
  readonly onClose: () => void;
  readonly onKeys: () => void;
  /** The whole handbook, at a page; null while nobody is at the bench. */
  readonly onHandbook: ((page: HandbookPageName) => void) | null;
}

/** The page of the handbook about where one is, with the keys that work there; the work behind it stays as it is. */
export function HelpDialog({ location, onClose, onKeys, onHandbook }: HelpDialogProps) {
  const [name, setName] = useState(() => pageFor(location));
  const page = handbookPage(name);
  return (
    <Dialog title={page.title} onClose={onClose} wide>
      <CloseOnSameKey onClose={onClose} />
      <p data-screen-only>
        {onHandbook ? <Button onClick={() => onHandbook(name)}>The whole handbook</Button> : null}{" "}
        <Button onClick={onKeys} keyHint={keysOf("app.keys")[0]}>
          Every key
        </Button>
      </p>
      <PageText text={page.text} onPage={setName} />
      <KeysOf groups={keyGroupsFor(location.screen)} />
    </Dialog>
  );
}

function CloseOnSameKey({ onClose }: { onClose: () => void }) {
  useCommand("app.help", onClose);
  return null;
}
