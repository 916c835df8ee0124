import { type DragEvent, useId, useRef, useState } from "react";
import { classNames } from "../../parts/layout/class-names.ts";
import styles from "./Exchange.module.css";

export interface FilePickerProps {
  readonly label: string;
  /** Endings such as `.xlsx,.csv`. */
  readonly accept: string;
  readonly disabled?: boolean;
  readonly onFile: (file: File) => void;
}

/** A file chosen from the machine by key or pointer, or dropped here. */
export function FilePicker({ label, accept, disabled = false, onFile }: FilePickerProps) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);
  const take = (files: FileList | null): void => {
    const file = files?.[0];
    if (file && !disabled) onFile(file);
    if (input.current) input.current.value = "";
  };
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    setOver(false);
    take(event.dataTransfer.files);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is only a shortcut of the file field inside
    <div
      className={classNames(styles.drop, over && styles.over)}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        ref={input}
        type="file"
        accept={accept}
        disabled={disabled}
        className={styles.file}
        onChange={(event) => take(event.target.files)}
      />
    </div>
  );
}
