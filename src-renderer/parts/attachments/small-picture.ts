import type { Client } from "#core/contract/calls.ts";
import type { Attachment } from "#core/contract/records/attachment.ts";
import { MOST_PICTURE_POINTS } from "#core/contract/records/attachment.ts";
import type { Reply } from "#core/contract/reply.ts";
import { pictureSize } from "#core/drawing/picture-size.ts";

/** The bytes of an attachment, part by part; the host has held them against their SHA-256. */
export async function attachedBytes(
  client: Client,
  { id, bytes }: Pick<Attachment, "id" | "bytes">,
): Promise<Reply<Uint8Array<ArrayBuffer>>> {
  const content = new Uint8Array(bytes);
  let filled = 0;
  for (let from: number | null = 0; from !== null; ) {
    const reply: Awaited<ReturnType<typeof client<"attachments.read">>> = await client("attachments.read", {
      attachmentId: id,
      from,
    });
    if (!reply.ok) return reply;
    for (const character of atob(reply.value.base64)) {
      content[filled] = character.charCodeAt(0);
      filled += 1;
    }
    from = reply.value.next;
  }
  return { ok: true, value: content };
}

/**
 * A PNG or JPEG drawn small: what stays of it is no larger than `side` points in its longer side.
 * @returns null for what is neither, for more points than are decoded, and for what the window cannot decode
 */
export async function smallPicture(
  content: Uint8Array<ArrayBuffer>,
  side: number,
): Promise<ImageBitmap | null> {
  const size = pictureSize(content);
  if (size === null || size.width * size.height > MOST_PICTURE_POINTS) return null;
  const scale = Math.min(1, side / Math.max(size.width, size.height));
  try {
    return await createImageBitmap(new Blob([content], { type: size.mediaType }), {
      resizeWidth: Math.max(1, Math.round(size.width * scale)),
      resizeQuality: "high",
    });
  } catch {
    // Its header is whole and what follows is not.
    return null;
  }
}
