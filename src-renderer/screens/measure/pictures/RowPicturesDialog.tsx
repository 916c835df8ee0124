import { type ClipboardEvent, type DragEvent, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { AttachmentList } from "../../../parts/attachments/AttachmentList.tsx";
import { ReasonForm } from "../../../parts/form/ReasonForm.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { AddRowPicture } from "./AddRowPicture.tsx";
import { pictureFileOf } from "./picture-file.ts";
import styles from "./pictures.module.css";
import { type RowAtHand, rowWords } from "./row-at-hand.ts";

export interface RowPicturesDialogProps {
  readonly row: RowAtHand;
  /** Of this sheet, withdrawn ones too. */
  readonly pictures: readonly Attachment[];
  /** Pasted or dropped; null: to be chosen. */
  readonly given: File | null;
  readonly onKept: (picture: Attachment) => void;
  readonly onClose: () => void;
}

/** The pictures of one row: attached by paste, drop or file, looked at, withdrawn with a reason. */
export function RowPicturesDialog({ row, pictures, given, onKept, onClose }: RowPicturesDialogProps) {
  const client = useClient();
  const [file, setFile] = useState(given);
  const [withdrawing, setWithdrawing] = useState<Attachment | null>(null);
  const take = (event: ClipboardEvent | DragEvent, data: DataTransfer | null): void => {
    const found = pictureFileOf(data);
    if (!found) return;
    event.preventDefault();
    setFile(found);
  };
  const own = pictures.filter((one) => one.subject.id === row.id);
  return (
    <Dialog title={`Pictures of ${rowWords(row).replace("Row", "row")}`} wide onClose={onClose}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: a picture is pasted or dropped anywhere in the dialog */}
      <div
        className={styles.dialog}
        onPaste={(event) => take(event, event.clipboardData)}
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event) => take(event, event.dataTransfer)}
      >
        {withdrawing ? (
          <ReasonForm
            id={`withdraw-picture-${withdrawing.id}`}
            label={`Withdraw ${withdrawing.fileName}`}
            what="the withdrawal of a picture"
            submit={`Withdraw ${withdrawing.fileName}`}
            send={(reason, requestId) =>
              client("attachments.withdraw", { requestId, attachmentId: withdrawing.id, reason })
            }
            onSaved={() => setWithdrawing(null)}
            onCancel={() => setWithdrawing(null)}
          >
            <p>
              It is shown beside the row and in reports no longer. The file stays, marked with your reason.
            </p>
          </ReasonForm>
        ) : (
          <AddRowPicture row={row} file={file} onFile={setFile} onKept={onKept} />
        )}
        {own.length > 0 ? <AttachmentList attachments={own} onWithdraw={setWithdrawing} /> : null}
      </div>
    </Dialog>
  );
}
