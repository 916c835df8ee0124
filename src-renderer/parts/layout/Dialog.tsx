import { type ReactNode, useId, useLayoutEffect, useRef, useState } from "react";
import { KeyLayer } from "../../window/use-command.tsx";
import { Button } from "../Button.tsx";
import styles from "./Dialog.module.css";
import { Ruler } from "./Ruler.tsx";

export interface DialogProps {
  readonly title: string;
  /** Escape or the close button; null: the question must be answered. */
  readonly onClose: (() => void) | null;
  readonly wide?: boolean;
  /** Leaves the close button out where an answer of the dialog does the same. */
  readonly answersClose?: boolean;
  readonly children: ReactNode;
}

/** A modal question: the native dialog keeps the focus inside and gives it back when closed. */
export function Dialog({ title, onClose, wide = false, answersClose = false, children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  // What is inside is drawn once the dialog is open: before, no field in it could take the focus.
  const [open, setOpen] = useState(false);
  useLayoutEffect(() => {
    const before = document.activeElement;
    const element = dialog.current;
    element?.showModal();
    setOpen(true);
    return () => {
      element?.close();
      // The editor of a cell is gone when the focus left its grid: the cell, with what was half-typed, takes it.
      const back = before?.isConnected ? before : document.querySelector("[role=grid] [tabindex='0']");
      if (back instanceof HTMLElement) back.focus();
    };
  }, []);
  return (
    <KeyLayer>
      <dialog
        ref={dialog}
        className={styles.dialog}
        data-wide={wide}
        aria-labelledby={id}
        onCancel={(event) => {
          event.preventDefault();
          onClose?.();
        }}
      >
        <header className={styles.head}>
          <h2 id={id}>{title}</h2>
        </header>
        <Ruler strong />
        <div className={styles.body}>{open ? children : null}</div>
        {onClose && !answersClose ? (
          <div className={styles.close}>
            <Button look="quiet" onClick={onClose} keyHint="Esc">
              Close
            </Button>
          </div>
        ) : null}
      </dialog>
    </KeyLayer>
  );
}
