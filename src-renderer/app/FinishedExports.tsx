import { useEffect, useState } from "react";
import type { ExportProgress } from "#core/contract/records/exchange.ts";
import { errorWords } from "#core/contract/reply.ts";
import { useClient } from "../bridge/bridge-context.tsx";
import { forgetExport, useExportsLeft } from "../bridge/exports-left.ts";
import { Button } from "../parts/Button.tsx";
import { ShowInFolder } from "../parts/ShowInFolder.tsx";
import styles from "./FinishedExports.module.css";

/** How often an export is looked at whose screen was left, ms. */
const LOOK_EVERY = 1000;

/** What became of exports whose screen was left: a quiet line on every screen, until it is closed. */
export function FinishedExports() {
  const left = useExportsLeft();
  return (
    <div role="log" aria-label="Finished exports" data-screen-only>
      {left.map((exportId) => (
        <Outcome key={exportId} exportId={exportId} />
      ))}
    </div>
  );
}

function Outcome({ exportId }: { exportId: string }) {
  const client = useClient();
  const [progress, setProgress] = useState<ExportProgress | null>(null);
  const isOver = progress !== null && progress.state !== "writing";
  useEffect(() => {
    if (isOver) return undefined;
    const look = async (): Promise<void> => {
      const reply = await client("exports.status", { exportId });
      if (reply.ok) setProgress(reply.value);
      // A program that was started again knows nothing of it.
      else if (reply.error.code === "export.unknown") forgetExport(exportId);
    };
    void look();
    const timer = setInterval(() => void look(), LOOK_EVERY);
    return () => clearInterval(timer);
  }, [client, exportId, isOver]);
  if (!progress || !isOver) return null;
  const { file, state, fileName, trouble } = progress;
  return (
    <p className={styles.line}>
      {state === "done" ? `Written: ${fileName}` : null}
      {state === "cancelled" ? `Stopped: ${fileName} was not written.` : null}
      {trouble ? `Not written: ${fileName}. ${errorWords(trouble)}` : null}
      {file ? <ShowInFolder exportId={exportId} /> : null}
      {file?.download ? (
        <a href={file.download} download={file.fileName}>
          Save a copy
        </a>
      ) : null}
      <Button
        look="quiet"
        aria-label={`Close the line about ${fileName}`}
        onClick={() => forgetExport(exportId)}
      >
        Close
      </Button>
    </p>
  );
}
