import type { ExportedFile } from "#core/contract/records/exchange.ts";
import { Notice } from "../Notice.tsx";
import { shownBytes } from "./bytes.ts";
import styles from "./ExportNotice.module.css";

export interface ExportNoticeProps {
  readonly file: ExportedFile | null;
  /** What was to be written. */
  readonly what: "copy" | "bench file" | "file of heads";
}

/** Where a file was written, and how the browser can save a copy of it. */
export function ExportNotice({ file, what }: ExportNoticeProps) {
  if (!file) return <Notice live>No {what} was written: the choice of a place was cancelled.</Notice>;
  return (
    <Notice kind="done" live title={`Written: ${file.fileName}, ${shownBytes(file.bytes)}`}>
      <p>{file.path}</p>
      <p className={styles.hash}>The file, SHA-256: {file.dataSha256}</p>
      {file.download === null ? null : (
        <p>
          <a className={styles.save} href={file.download} download={file.fileName}>
            Save a copy from this window
          </a>
        </p>
      )}
    </Notice>
  );
}
