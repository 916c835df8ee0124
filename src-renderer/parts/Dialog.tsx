import { type ReactNode, useEffect, useId, useRef } from "react";
import { KeyLayer } from "../app/use-command.tsx";
import styles from "./Dialog.module.css";
import { Ruler } from "./Ruler.tsx";

export interface DialogProps {
  readonly title: string;
  /** Escape or the close button; null: the question must be answered. */
  readonly onClose: (() => void) | null;
  readonly wide?: boolean;
  readonly children: ReactNode;
}

/** A modal question: the native dialog keeps the focus inside and gives it back when closed. */
export function Dialog({ title, onClose, wide = false, children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const before = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (before instanceof HTMLElement) before.focus();
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
        <div className={styles.body}>{children}</div>
      </dialog>
    </KeyLayer>
  );
}
