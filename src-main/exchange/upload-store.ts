import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { mkdir, open, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Upload } from "#core/contract/records/exchange.ts";
import { Refusal } from "../dispatch/refusals.ts";
import type { Ids } from "../ports/ids.ts";

/** So many files wait at a time; the oldest makes room for a new one. */
const MOST_WAITING = 6;

interface Waiting {
  readonly upload: Upload;
  readonly path: string;
}

/** Files that a window handed over part by part, kept beside the bench until they are forgotten. */
export interface UploadStore {
  begin(fileName: string, bytes: number): Promise<Upload>;
  /** @throws Refusal `upload.unknown`, `upload.out-of-order` */
  add(uploadId: string, offset: number, base64: string): Promise<Upload>;
  forget(uploadId: string): Promise<void>;
  /** The finished file. @throws Refusal `upload.unknown`, `upload.incomplete` */
  finished(uploadId: string): { readonly path: string; readonly fileName: string };
}

/** The last part of a name that may come with folders from another system, without control characters. */
function bareName(fileName: string): string {
  const last = fileName.split(/[\\/]/).at(-1) ?? "";
  const shown = last.replace(/\p{Cc}/gu, " ").trim();
  return shown === "" ? "file" : shown.slice(0, 120);
}

const unknown = (): Refusal =>
  new Refusal("upload.unknown", "That file is not here any more.", {
    field: "uploadId",
    hint: "Choose the file again.",
  });

/** @param a folder of its own; what an earlier run left there is removed */
export function createUploadStore(folder: string, ids: Ids): UploadStore {
  const waiting = new Map<string, Waiting>();
  let ready: Promise<void> | null = null;

  async function prepare(): Promise<void> {
    await mkdir(folder, { recursive: true });
    for (const name of await readdir(folder)) await rm(join(folder, name), { force: true });
  }

  function find(uploadId: string): Waiting {
    const found = waiting.get(uploadId);
    if (found === undefined) throw unknown();
    return found;
  }

  async function forget(uploadId: string): Promise<void> {
    const found = waiting.get(uploadId);
    waiting.delete(uploadId);
    if (found !== undefined) await rm(found.path, { force: true });
  }

  return {
    async begin(fileName, bytes) {
      ready ??= prepare();
      await ready;
      const [oldest] = waiting.keys();
      if (waiting.size >= MOST_WAITING && oldest !== undefined) await forget(oldest);
      const upload = { uploadId: ids.next(), fileName: bareName(fileName), bytes, received: 0 };
      // The name on the disk is ours: nothing of the file's own name reaches the file system.
      const path = join(folder, `${upload.uploadId}.part`);
      await (await open(path, "wx")).close();
      waiting.set(upload.uploadId, { upload, path });
      return upload;
    },
    async add(uploadId, offset, base64) {
      const { upload, path } = find(uploadId);
      const part = Buffer.from(base64, "base64");
      // A part that comes twice, after a lost answer, is written over itself.
      if (offset > upload.received || offset + part.length > upload.bytes) {
        throw new Refusal("upload.out-of-order", "The parts of the file did not come in order.", {
          field: "offset",
          hint: "Choose the file again.",
        });
      }
      const file = await open(path, "r+");
      try {
        await file.write(part, 0, part.length, offset);
      } finally {
        await file.close();
      }
      const now = { ...upload, received: Math.max(upload.received, offset + part.length) };
      waiting.set(uploadId, { upload: now, path });
      return now;
    },
    forget,
    finished(uploadId) {
      const { upload, path } = find(uploadId);
      if (upload.received === upload.bytes) return { path, fileName: upload.fileName };
      throw new Refusal("upload.incomplete", `${upload.fileName} is not here in full yet.`, {
        field: "uploadId",
        hint: "Choose the file again.",
      });
    },
  };
}

/** SHA-256 of a file, read piece by piece. */
export async function fileSha256(path: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const piece of createReadStream(path)) hash.update(piece as Buffer);
  return hash.digest("hex");
}
