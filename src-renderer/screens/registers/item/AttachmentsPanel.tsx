import { useRef, useState } from "react";
import type { Attachment, AttachmentSubject } from "#core/contract/records/attachment.ts";
import { LARGEST_ATTACHMENT_BYTES } from "#core/contract/records/attachment.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { AttachmentList } from "../../../parts/attachments/AttachmentList.tsx";
import styles from "../../../parts/attachments/Attachments.module.css";
import { sendAttachment } from "../../../parts/attachments/attachment-bytes.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { ReasonForm } from "../../../parts/form/ReasonForm.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";

type State =
  | { readonly at: "idle" }
  | { readonly at: "sending"; readonly share: number }
  | { readonly at: "kept"; readonly attachment: Attachment }
  | { readonly at: "refused"; readonly error: Pick<CallError, "message" | "hint"> };

/** What is attached to a registered thing, and the way to attach more. */
export function AttachmentsPanel({ subject, name }: { subject: AttachmentSubject; name: string }) {
  const client = useClient();
  const list = useCall("attachments.list", { subject });
  const [withdrawing, setWithdrawing] = useState<Attachment | null>(null);
  return (
    <div className={styles.tab}>
      <CallNotice calls={[list]} waiting="Looking for attachments …" />
      {list.data ? <AttachmentList attachments={list.data} onWithdraw={setWithdrawing} /> : null}
      {withdrawing ? (
        <ReasonForm
          id={`withdraw-attachment-${withdrawing.id}`}
          label={`Withdraw ${withdrawing.fileName}`}
          what="the withdrawal of an attachment"
          submit={`Withdraw ${withdrawing.fileName}`}
          send={(reason, requestId) =>
            client("attachments.withdraw", { requestId, attachmentId: withdrawing.id, reason })
          }
          onSaved={() => setWithdrawing(null)}
          onCancel={() => setWithdrawing(null)}
        >
          <p>The file stays, marked as withdrawn with your reason.</p>
        </ReasonForm>
      ) : (
        <AddAttachment subject={subject} name={name} />
      )}
    </div>
  );
}

function AddAttachment({ subject, name }: { subject: AttachmentSubject; name: string }) {
  const client = useClient();
  const [caption, setCaption] = useState("");
  const [state, setState] = useState<State>({ at: "idle" });
  const input = useRef<HTMLInputElement>(null);
  const id = `attach-${subject.kind.replaceAll(" ", "-")}-${subject.id}`;
  const send = async (file: File): Promise<void> => {
    if (file.size > LARGEST_ATTACHMENT_BYTES) {
      setState({
        at: "refused",
        error: {
          message: `${file.name} is larger than ${LARGEST_ATTACHMENT_BYTES / 1_000_000} MB.`,
          hint: "Scan it at a lower resolution: 300 dots per inch are enough for a certificate.",
        },
      });
      return;
    }
    setState({ at: "sending", share: 0 });
    const attachment = { subject, fileName: file.name, bytes: file.size, caption };
    const reply = await sendAttachment(client, attachment, file, newRequestId(), (share) =>
      setState({ at: "sending", share }),
    );
    setState(reply.ok ? { at: "kept", attachment: reply.value } : { at: "refused", error: reply.error });
    if (reply.ok) setCaption("");
    if (input.current) input.current.value = "";
  };
  return (
    <div className={styles.tab} data-screen-only>
      <div className={styles.choose}>
        <TextField
          id={`${id}-caption`}
          label="What the next file shows"
          value={caption}
          onChange={setCaption}
          optional
        />
        <span className={styles.file}>
          <label htmlFor={id}>Attach a scan or photograph to {name} (PDF, PNG or JPEG)</label>
          <input
            id={id}
            ref={input}
            type="file"
            accept="application/pdf,image/png,image/jpeg"
            disabled={state.at === "sending"}
            onChange={(event) => {
              const file = event.target.files?.[0];
              if (file) void send(file);
            }}
          />
        </span>
      </div>
      {state.at === "sending" ? <p role="status">Sending … {Math.round(state.share * 100)} %</p> : null}
      {state.at === "kept" ? (
        <Notice kind="done" live title={`Kept: ${state.attachment.fileName}`}>
          <p className={styles.hash}>{state.attachment.sha256}</p>
        </Notice>
      ) : null}
      {state.at === "refused" ? <RefusalNotice error={state.error} /> : null}
    </div>
  );
}
