import { readFileSync } from "node:fs";
import { basename } from "node:path";
import type { TempBench } from "../../support/temp-bench.ts";

/** Hands a file over part by part, as a window does. */
export async function uploadBytes(
  bench: TempBench,
  fileName: string,
  bytes: Buffer,
  part = 200_000,
): Promise<string> {
  const { uploadId } = await bench.call("uploads.begin", { fileName, bytes: bytes.length });
  for (let offset = 0; offset < bytes.length; offset += part) {
    const base64 = bytes.subarray(offset, offset + part).toString("base64");
    await bench.call("uploads.part", { uploadId, offset, base64 });
  }
  return uploadId;
}

export function uploadFile(bench: TempBench, path: string): Promise<string> {
  return uploadBytes(bench, basename(path), readFileSync(path));
}
