import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Button } from "../../parts/Button.tsx";
import { shownBytes } from "../../parts/bench-words/bytes.ts";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { ShowInFolder } from "../../parts/ShowInFolder.tsx";
import styles from "./Exchange.module.css";
import type { Exporting } from "./use-export.ts";

/** How far an export is, with the way to stop it, and what came of it; `covers`: what its SHA-256 is of. */
export function ExportOutcome({
  view,
  cancel,
  covers = "All records",
}: Pick<Exporting, "view" | "cancel"> & { covers?: "All records" | "The file" }) {
  if (view.at === "idle") return null;
  if (view.at === "asking") return <Notice live>Choosing the place …</Notice>;
  if (view.at === "nowhere")
    return <Notice live>Nothing was written: the choice of a place was cancelled.</Notice>;
  if (view.at === "refused") {
    return <RefusalNotice error={view.error} />;
  }
  const { exportId, state, fileName, rows, ofRows, file, trouble } = view.progress;
  if (state === "writing") {
    return (
      <Notice
        title={`Writing ${fileName}${ofRows === 0 ? " …" : `: ${rows} of ${countedNoun(ofRows, "row")}`}`}
      >
        <div className={styles.acts}>
          <progress
            className={styles.progress}
            {...(ofRows === 0 ? {} : { value: rows, max: ofRows })}
            aria-label={`Writing ${fileName}`}
          />
          <Button onClick={() => void cancel()}>Stop</Button>
        </div>
      </Notice>
    );
  }
  if (state === "cancelled") {
    return <Notice live title="Stopped: nothing was written, and an earlier file is as it was." />;
  }
  if (trouble !== null) return <RefusalNotice error={trouble} />;
  if (file === null) return null;
  return (
    <Notice kind="done" live title={`Written: ${file.fileName}, ${shownBytes(file.bytes)}`}>
      <p>{file.path}</p>
      <p className={styles.hash}>
        {covers}, SHA-256: {file.dataSha256}
      </p>
      <p>
        <ShowInFolder exportId={exportId} />
      </p>
      {file.download === null ? null : (
        <p>
          <a className={styles.saved} href={file.download} download={file.fileName}>
            Save a copy from this window
          </a>
        </p>
      )}
    </Notice>
  );
}
