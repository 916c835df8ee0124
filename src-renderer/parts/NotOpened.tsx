import type { Opened } from "../live/use-opened.ts";
import { Button } from "./Button.tsx";
import { ScreenFrame } from "./layout/ScreenFrame.tsx";
import { Notice } from "./Notice.tsx";

export interface NotOpenedProps {
  /** Title of the screen. */
  readonly title: string;
  /** What is being opened: a sheet, a count. */
  readonly what: string;
  readonly opened: Exclude<Opened<unknown>, { readonly state: "open" }>;
  readonly onAgain: () => void;
  readonly onOther: () => void;
}

/** In place of a record that is not here yet, or that was refused. */
export function NotOpened({ title, what, opened, onAgain, onOther }: NotOpenedProps) {
  return (
    <ScreenFrame title={title}>
      {opened.state === "fetching" ? (
        <p role="status">Fetching the {what} …</p>
      ) : (
        <Notice kind="fault" live title={opened.error.message} hint={opened.error.hint}>
          <p>
            <Button onClick={onAgain}>Try again</Button>{" "}
            <Button onClick={onOther}>Choose another {what}</Button>
          </p>
        </Notice>
      )}
    </ScreenFrame>
  );
}
