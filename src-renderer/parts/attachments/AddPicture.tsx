import { useCallback, useEffect } from "react";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { LARGEST_ATTACHMENT_BYTES } from "#core/contract/records/attachment.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { sentence } from "../form/FieldFrame.tsx";
import { FormFrame } from "../form/FormFrame.tsx";
import { TextField } from "../form/TextField.tsx";
import { useForm } from "../form/use-form.ts";
import { sendAttachment } from "./attachment-bytes.ts";
import { keptName, PICTURE_KINDS } from "./picture-file.ts";
import type { PictureOwner } from "./picture-owner.ts";
import styles from "./pictures.module.css";
import { SmallPicture } from "./SmallPicture.tsx";

/** Longer side of the picture that is about to be attached, points. */
const SIDE = 240;

export interface AddPictureProps {
  readonly owner: PictureOwner;
  readonly file: File | null;
  readonly onFile: (file: File | null) => void;
  readonly onKept: (picture: Attachment) => void;
}

interface Picture {
  readonly caption: string;
  /** Which file it is: another one under the same caption is another act. */
  readonly file: string;
}

/** A picture with its caption: both are kept together, and neither is changed afterwards. */
export function AddPicture({ owner, file, onFile, onKept }: AddPictureProps) {
  const client = useClient();
  const { subject } = owner;
  const form = useForm<Picture, Attachment>({
    id: `picture-${subject.id}${subject.field === undefined ? "" : `-${subject.field}`}`,
    what: `a picture of ${owner.short}`,
    initial: { caption: "", file: "" },
    check: () => (file === null ? { file: "is missing: paste, drop or choose one" } : tooLarge(file)),
    send: ({ caption }, requestId) => {
      const picture = file ?? new File([], "");
      const attachment = {
        subject,
        fileName: keptName(picture, owner.short),
        bytes: picture.size,
        caption,
      } as const;
      return sendAttachment(client, attachment, picture, requestId, () => undefined);
    },
    fieldOf: (path) => (path === "attachment.caption" ? "caption" : "file"),
    onSaved: onKept,
  });
  const { error, id } = form.bind("file", "Picture");
  const { set } = form;
  const named = file === null ? "" : `${file.name} ${file.size} ${file.lastModified}`;
  // biome-ignore lint/correctness/useExhaustiveDependencies: only another file is something new
  useEffect(() => set("file", named), [named]);
  return (
    <FormFrame form={form} label={`A picture of ${owner.short}`} submit="Attach the picture">
      {file ? <Given file={file} /> : null}
      <span className={styles.given}>
        <label htmlFor={id}>Picture: paste it (Ctrl+V), drop it here, or choose a file (PNG or JPEG)</label>
        <input
          id={id}
          type="file"
          accept={PICTURE_KINDS}
          aria-invalid={error ? true : undefined}
          aria-describedby={error ? `${id}-problem` : undefined}
          onChange={(event) => onFile(event.target.files?.[0] ?? null)}
        />
        {error ? (
          <span id={`${id}-problem`} className={styles.problem}>
            {sentence("Picture", error)}
          </span>
        ) : null}
      </span>
      <TextField {...form.bind("caption", "What it shows")} optional autoFocus />
    </FormFrame>
  );
}

function tooLarge(file: File): Record<string, string> {
  if (file.size <= LARGEST_ATTACHMENT_BYTES) return {};
  return { file: `is larger than ${LARGEST_ATTACHMENT_BYTES / 1_000_000} MB: save it smaller` };
}

function Given({ file }: { file: File }) {
  const read = useCallback(
    async () => ({ ok: true, value: new Uint8Array(await file.arrayBuffer()) }) as const,
    [file],
  );
  return (
    <figure>
      <SmallPicture read={read} side={SIDE} alt="The picture to be attached" />
      <figcaption data-as-written>{file.name}</figcaption>
    </figure>
  );
}
