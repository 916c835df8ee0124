import { type ClipboardEvent, type DragEvent, useState } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { ReasonForm } from "../form/ReasonForm.tsx";
import { Dialog } from "../layout/Dialog.tsx";
import { AddPicture } from "./AddPicture.tsx";
import { AttachmentList } from "./AttachmentList.tsx";
import { pictureFileOf } from "./picture-file.ts";
import { isPictureOf, type PictureOwner } from "./picture-owner.ts";
import styles from "./pictures.module.css";

export interface PicturesDialogProps {
  readonly owner: PictureOwner;
  /** Of its sheet or count, withdrawn ones too. */
  readonly pictures: readonly Attachment[];
  /** Pasted or dropped; null: to be chosen. */
  readonly given: File | null;
  readonly onKept: (picture: Attachment) => void;
  readonly onClose: () => void;
}

/** The pictures of one row or field: attached by paste, drop or file, looked at, withdrawn with a reason. */
export function PicturesDialog({ owner, pictures, given, onKept, onClose }: PicturesDialogProps) {
  const client = useClient();
  const [file, setFile] = useState(given);
  const [withdrawing, setWithdrawing] = useState<Attachment | null>(null);
  const take = (event: ClipboardEvent | DragEvent, data: DataTransfer | null): void => {
    const found = pictureFileOf(data);
    if (!found) return;
    event.preventDefault();
    setFile(found);
  };
  const own = pictures.filter((one) => isPictureOf(one, owner));
  return (
    <Dialog title={`Pictures of ${owner.words}`} wide onClose={onClose}>
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
              It is shown beside the {owner.subject.field === undefined ? "row" : "field"} and in reports no
              longer. The file stays, marked with your reason.
            </p>
          </ReasonForm>
        ) : (
          <AddPicture owner={owner} file={file} onFile={setFile} onKept={onKept} />
        )}
        {own.length > 0 ? <AttachmentList attachments={own} onWithdraw={setWithdrawing} /> : null}
      </div>
    </Dialog>
  );
}
