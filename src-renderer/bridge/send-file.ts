import type { Client } from "#core/contract/calls.ts";
import { UPLOAD_PART, type Upload } from "#core/contract/records/exchange.ts";
import type { Reply } from "#core/contract/reply.ts";

/** Characters of one call of `String.fromCharCode`; more arguments than this overflow a stack. */
const STRIDE = 0x8000;

function base64Of(bytes: Uint8Array): string {
  let text = "";
  for (let from = 0; from < bytes.length; from += STRIDE) {
    text += String.fromCharCode(...bytes.subarray(from, from + STRIDE));
  }
  return btoa(text);
}

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
