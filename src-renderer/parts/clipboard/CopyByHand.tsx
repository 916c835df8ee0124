import { useId, useLayoutEffect, useRef } from "react";
import { Notice } from "../Notice.tsx";
import styles from "./CopyByHand.module.css";

/** Text that could not be put on the clipboard, marked and ready to be copied by hand. */
export function CopyByHand({ text }: { readonly text: string }) {
  const place = useRef<HTMLTextAreaElement>(null);
  const id = useId();
  useLayoutEffect(() => {
    if (place.current === null) return;
    place.current.value = text;
    place.current.focus();
    place.current.select();
  }, [text]);
  return (
    <Notice kind="care" live title="The clipboard is not open to this window: nothing was copied.">
      <label htmlFor={id}>
        The text is marked here. Press Ctrl+C, on a Mac Command+C, to copy it by hand.
      </label>
      <textarea id={id} ref={place} className={styles.text} readOnly rows={8} />
    </Notice>
  );
}
