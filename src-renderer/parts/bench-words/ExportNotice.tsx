import type { CallOutput } from "#core/contract/calls.ts";
import { Notice } from "../Notice.tsx";
import { shownBytes } from "./bytes.ts";
import styles from "./ExportNotice.module.css";

export interface ExportNoticeProps {
  readonly file: CallOutput<"trends.workbook">;
  /** What was to be written. */
  readonly what?: "workbook" | "copy" | "bench file" | "picture" | "file of heads";
}

/** Where a file was written, and how the browser can save a copy of it. */
export function ExportNotice({ file, what = "workbook" }: ExportNoticeProps) {
  if (!file) return <Notice live>No {what} was written: the choice of a place was cancelled.</Notice>;
  return (
    <Notice kind="done" live title={`Written: ${file.fileName}, ${shownBytes(file.bytes)}`}>
      <p>{file.path}</p>
      <p className={styles.hash}>
        {what === "workbook" ? "All records" : "The file"}, SHA-256: {file.dataSha256}
      </p>
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
