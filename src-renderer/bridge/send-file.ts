import type { Client } from "#core/contract/calls.ts";
import { UPLOAD_PART, type Upload } from "#core/contract/records/exchange.ts";
import type { Reply } from "#core/contract/reply.ts";
import { base64Of } from "./base64.ts";

/** Hands a file to the program part by part. `onProgress` hears the share sent, 0…1. */
export async function sendFile(
  client: Client,
  file: File,
  onProgress: (share: number) => void,
): Promise<Reply<Upload>> {
  const begun = await client("uploads.begin", { fileName: file.name, bytes: file.size });
  if (!begun.ok) return begun;
  const { uploadId } = begun.value;
  let upload: Reply<Upload> = begun;
  for (let offset = 0; offset < file.size && upload.ok; offset += UPLOAD_PART) {
    const part = await file.slice(offset, offset + UPLOAD_PART).arrayBuffer();
    upload = await client("uploads.part", { uploadId, offset, base64: base64Of(new Uint8Array(part)) });
    onProgress(Math.min(1, (offset + UPLOAD_PART) / file.size));
  }
  return upload;
}
