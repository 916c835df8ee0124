import { useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { Attachment } from "#core/contract/records/attachment.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../Button.tsx";
import { shownBytes } from "../bench-words/bytes.ts";
import { ExportNotice } from "../bench-words/ExportNotice.tsx";
import { shownInstant } from "../bench-words/instant.ts";
import { usePersonName } from "../bench-words/use-person-name.ts";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import { RefusalNotice } from "../RefusalNotice.tsx";
import { AttachmentPicture } from "./AttachmentPicture.tsx";
import styles from "./Attachments.module.css";

export interface AttachmentListProps {
  readonly attachments: readonly Attachment[];
  /** Offers to withdraw one; without it the list is only read. */
  readonly onWithdraw?: (attachment: Attachment) => void;
  /** Shows the pictures at once, as on a page to be printed. */
  readonly pictures?: boolean;
}

type Outcome =
  | { readonly at: "copied"; readonly file: CallOutput<"attachments.export"> }
  | { readonly at: "refused"; readonly error: CallError };

const KIND = { "image/png": "PNG", "image/jpeg": "JPEG", "application/pdf": "PDF" } as const;

/** Scans and photographs: what they are, by whose hand they came, and the SHA-256 that proves them. */
export function AttachmentList({ attachments, onWithdraw, pictures = false }: AttachmentListProps) {
  const client = useClient();
  const nameOf = usePersonName();
  const [shown, setShown] = useState<string | null>(null);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const copy = async (attachmentId: string): Promise<void> => {
    const reply = await client("attachments.export", { attachmentId });
    setOutcome(reply.ok ? { at: "copied", file: reply.value } : { at: "refused", error: reply.error });
  };
  const picture = (one: Attachment): boolean => one.mediaType !== "application/pdf";
  const columns: readonly Column<Attachment>[] = [
    { key: "file", title: "File", names: true, cell: (one) => one.fileName },
    { key: "caption", title: "What it shows", cell: (one) => one.caption || "–" },
    {
      key: "kind",
      title: "Kind, size",
      unbroken: true,
      cell: (one) => `${KIND[one.mediaType]}, ${shownBytes(one.bytes)}`,
    },
    {
      key: "added",
      title: "Added",
      cell: (one) =>
        one.withdrawn
          ? `withdrawn ${shownInstant(one.withdrawn.at)}, ${nameOf(one.withdrawn.by)}: ${one.withdrawn.reason}`
          : `${shownInstant(one.addedAt)}, ${nameOf(one.addedBy)}`,
    },
    { key: "sha", title: "SHA-256", cell: (one) => <span className={styles.hash}>{one.sha256}</span> },
    {
      key: "acts",
      title: <span data-screen-only>Look</span>,
      cell: (one) => (
        <span className={styles.acts}>
          {picture(one) && !pictures ? (
            <Button
              look="quiet"
              aria-label={`${shown === one.id ? "Close" : "Show"} ${one.fileName}`}
              aria-expanded={shown === one.id}
              onClick={() => setShown(shown === one.id ? null : one.id)}
            >
              {shown === one.id ? "Close" : "Show"}
            </Button>
          ) : null}
          <Button
            look="quiet"
            aria-label={`Save a copy of ${one.fileName}`}
            onClick={() => void copy(one.id)}
          >
            Save a copy
          </Button>
          {onWithdraw && !one.withdrawn ? (
            <Button look="quiet" aria-label={`Withdraw ${one.fileName}`} onClick={() => onWithdraw(one)}>
              Withdraw
            </Button>
          ) : null}
        </span>
      ),
    },
  ];
  return (
    <div className={styles.tab}>
      {outcome?.at === "copied" ? <ExportNotice file={outcome.file} what="copy" /> : null}
      {outcome?.at === "refused" ? <RefusalNotice error={outcome.error} /> : null}
      <DataTable
        caption="Scans and photographs"
        columns={columns}
        rows={attachments}
        rowKey={(one) => one.id}
        empty="Nothing is attached."
      />
      {attachments
        .filter((one) => picture(one) && !one.withdrawn && (pictures || shown === one.id))
        .map((one) => (
          <AttachmentPicture key={one.id} attachment={one} />
        ))}
    </div>
  );
}
