import type { CallInput, Client } from "#core/contract/calls.ts";
import type { Attachment } from "#core/contract/records/attachment.ts";
import type { Reply } from "#core/contract/reply.ts";
import { base64Of, joinBase64 } from "../../bridge/base64.ts";

/** Sends a file in parts and keeps it; nothing is stored when any part is refused. */
export async function sendAttachment(
  client: Client,
  attachment: CallInput<"attachments.begin">["attachment"],
  file: Blob,
  requestId: string,
  onProgress: (share: number) => void,
): Promise<Reply<Attachment>> {
  const begun = await client("attachments.begin", { attachment });
  if (!begun.ok) return begun;
  const { uploadId, partBytes } = begun.value;
  for (let index = 0; index * partBytes < file.size; index += 1) {
    const part = file.slice(index * partBytes, (index + 1) * partBytes);
    const base64 = base64Of(new Uint8Array(await part.arrayBuffer()));
    const sent = await client("attachments.part", { uploadId, index, base64 });
    if (!sent.ok) return sent;
    onProgress(sent.value.received / file.size);
  }
  return client("attachments.finish", { requestId, uploadId });
}

/** The whole of an attachment as a `data:` address, which is all the content policy lets an image come from. */
export async function pictureAddress(client: Client, attachment: Attachment): Promise<Reply<string>> {
  let base64 = "";
  for (let from: number | null = 0; from !== null; ) {
    const reply: Awaited<ReturnType<typeof client<"attachments.read">>> = await client("attachments.read", {
      attachmentId: attachment.id,
      from,
    });
    if (!reply.ok) return reply;
    base64 = joinBase64(base64, reply.value.base64);
    from = reply.value.next;
  }
  return { ok: true, value: `data:${attachment.mediaType};base64,${base64}` };
}
