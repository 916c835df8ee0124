import { basename, extname } from "node:path";
import type { z } from "zod";
import {
  ATTACHMENT_PART_BYTES,
  type Attachment,
  type AttachmentSubject,
  type NewAttachment,
} from "#core/contract/records/attachment.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { keepFile, mediaTypeOf, readKept } from "../../store/bench-file/attachment-files.ts";
import { failureKind } from "../../store/bench-file/store-failure.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  findAttachment,
  insertAttachment,
  listAttachments,
  withdrawAttachment,
} from "../../store/repositories/attachment-repository.ts";
import { isRegistered } from "../../store/repositories/service-state-repository.ts";
import { writeBytesWhole } from "../../workbook/spreadsheet/write-file.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors, placeFor } from "../write-context/export-place.ts";
import { inTransactionOnce, requirePerson } from "../write-context/in-transaction.ts";
import {
  isWorkThere,
  picturesOfCount,
  picturesOfSheet,
  requireOpenWork,
  requirePicture,
  takesPictures,
} from "./work-pictures.ts";

type Calls = Extract<keyof import("#core/contract/calls.ts").Calls, `attachments.${string}`>;

/** Files under way at once; a window that went away must not fill the memory. */
const MOST_UPLOADS = 4;

interface Upload {
  readonly attachment: z.output<typeof NewAttachment>;
  readonly parts: Buffer[];
  received: number;
}

function requireSubject(db: ReadableDb, subject: AttachmentSubject): void {
  const { kind, id } = subject;
  const isWork = kind === "specimen row" || kind === "count field";
  if (isWork ? isWorkThere(db, subject) : isRegistered(db, kind, id)) return;
  throw new Refusal("subject.unknown", `That ${kind} is not on this bench.`, { field: "attachment.subject" });
}

function requireAttachment(db: ReadableDb, id: string): Attachment {
  const attachment = findAttachment(db, id);
  if (attachment) return attachment;
  throw new Refusal("attachment.unknown", "That attachment is not on this bench.", { field: "attachmentId" });
}

/** The file behind an attachment, whole. @throws Refusal `attachment.missing`, `attachment.damaged` */
export function requireContent(deps: Pick<Deps, "paths">, attachment: Attachment): Buffer {
  const kept = readKept(deps.paths.databaseFile, attachment.sha256);
  if (kept.state === "whole") return kept.content;
  const hint = "Attach the file again, and withdraw this attachment; the record itself is whole.";
  if (kept.state === "missing") {
    throw new Refusal(
      "attachment.missing",
      `The file ${attachment.fileName} is no longer in the attachments folder of the bench.`,
      { hint },
    );
  }
  throw new Refusal(
    "attachment.damaged",
    `The file ${attachment.fileName} is no longer the one that was attached on ${attachment.addedAt.slice(0, 10)}: its SHA-256 differs.`,
    { hint },
  );
}

/** Uploads under way, in memory: nothing is on disk before the whole file is there. */
class Uploads {
  readonly #open = new Map<string, Upload>();

  open(id: string, attachment: Upload["attachment"]): void {
    if (this.#open.size >= MOST_UPLOADS) {
      const oldest = this.#open.keys().next().value ?? "";
      this.#open.delete(oldest);
    }
    this.#open.set(id, { attachment, parts: [], received: 0 });
  }

  require(id: string): Upload {
    const upload = this.#open.get(id);
    if (upload) return upload;
    throw new Refusal("upload.unknown", "That upload is not under way any more.", {
      field: "uploadId",
      hint: "Choose the file again. Nothing was stored.",
    });
  }

  close(id: string): void {
    this.#open.delete(id);
  }
}

function takePart(upload: Upload, index: number, base64: string): number {
  const content = Buffer.from(base64, "base64");
  if (index === upload.parts.length - 1 && upload.parts[index]?.equals(content)) return upload.received;
  if (index !== upload.parts.length) {
    throw new Refusal("upload.out-of-order", `Part ${upload.parts.length} is expected next, not ${index}.`, {
      field: "index",
    });
  }
  if (upload.received + content.length > upload.attachment.bytes) {
    throw new Refusal("upload.too-long", "More bytes came than were announced.", {
      field: "base64",
      hint: "Choose the file again. Nothing was stored.",
    });
  }
  upload.parts.push(content);
  upload.received += content.length;
  return upload.received;
}

function wholeFile(upload: Upload): Buffer {
  const content = Buffer.concat(upload.parts);
  if (content.length === upload.attachment.bytes) return content;
  throw new Refusal(
    "upload.incomplete",
    `Of ${upload.attachment.fileName} came ${content.length} bytes of ${upload.attachment.bytes}.`,
    { field: "uploadId", hint: "Choose the file again. Nothing was stored." },
  );
}

function requireType(content: Buffer, fileName: string): Attachment["mediaType"] {
  const type = mediaTypeOf(content);
  if (type) return type;
  throw new Refusal(
    "attachment.type",
    `${fileName} is not a PNG, JPEG or PDF file, whatever its name says.`,
    {
      field: "uploadId",
      hint: "Save the scan as PDF, PNG or JPEG and attach that file.",
    },
  );
}

function kept(deps: Deps, content: Buffer): string {
  try {
    return keepFile(deps.paths.databaseFile, content);
  } catch (error) {
    if (failureKind(error) === null) throw error;
    throw new Refusal("file.unwritable", "The file could not be kept beside the bench.", {
      hint: "Make room on the disk of the bench and check that its folder can be written. Nothing was stored.",
    });
  }
}

function stemOf(fileName: string): { stem: string; extension: string } {
  const extension = extname(fileName);
  const stem = basename(fileName, extension).replace(/[^\p{L}\p{N}._ -]/gu, "_");
  return { stem: stem === "" ? "attachment" : stem, extension };
}

export function attachmentServices(deps: Deps): HandlersOf<Calls> {
  const uploads = new Uploads();
  return {
    "attachments.list": ({ subject }) => listAttachments(deps.db, subject),

    "attachments.ofSheet": ({ sheetId }) => picturesOfSheet(deps.db, sheetId),

    "attachments.ofCount": ({ countId }) => picturesOfCount(deps.db, countId),

    "attachments.begin": ({ attachment }) => {
      requirePerson(deps.db);
      requireSubject(deps.db, attachment.subject);
      requireOpenWork(deps.db, attachment.subject);
      const uploadId = deps.ids.next();
      uploads.open(uploadId, attachment);
      return { uploadId, partBytes: ATTACHMENT_PART_BYTES };
    },

    "attachments.part": ({ uploadId, index, base64 }) => ({
      received: takePart(uploads.require(uploadId), index, base64),
    }),

    "attachments.finish": (input, call) => {
      const finished = inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, by, audit }) => {
          const upload = uploads.require(input.uploadId);
          requireSubject(db, upload.attachment.subject);
          requireOpenWork(db, upload.attachment.subject);
          const content = wholeFile(upload);
          const mediaType = requireType(content, upload.attachment.fileName);
          if (takesPictures(upload.attachment.subject)) requirePicture(content, upload.attachment.fileName);
          const attachment: Attachment = {
            id: deps.ids.next(),
            ...upload.attachment,
            mediaType,
            sha256: kept(deps, content),
            addedAt: at,
            addedBy: by.id,
            withdrawn: null,
          };
          insertAttachment(db, attachment);
          const { subject, fileName, bytes, sha256, caption } = attachment;
          audit({
            act: "attachments.finish",
            subject: "attachment",
            subjectId: attachment.id,
            detail: { subject, fileName, mediaType, bytes, sha256, caption },
          });
          return attachment;
        },
        findAttachment,
      );
      uploads.close(input.uploadId);
      return finished;
    },

    "attachments.read": ({ attachmentId, from }) => {
      const attachment = requireAttachment(deps.db, attachmentId);
      const content = requireContent(deps, attachment);
      const next = from + ATTACHMENT_PART_BYTES;
      return {
        base64: content.subarray(from, next).toString("base64"),
        next: next < content.length ? next : null,
        sha256: attachment.sha256,
      };
    },

    "attachments.export": async ({ attachmentId }) => {
      const attachment = requireAttachment(deps.db, attachmentId);
      const content = requireContent(deps, attachment);
      const { stem, extension } = stemOf(attachment.fileName);
      const path = await mapWriteErrors(deps.paths.exportFolder, () => placeFor(deps, stem, extension));
      if (path === null) return null;
      await mapWriteErrors(path, () => writeBytesWhole(path, content));
      const fileName = basename(path);
      const { bytes, sha256 } = attachment;
      return { fileName, path, bytes, dataSha256: sha256, download: deps.downloadAddress(fileName) };
    },

    "attachments.withdraw": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, by, audit }) => {
          const attachment = requireAttachment(db, input.attachmentId);
          if (attachment.withdrawn) {
            throw new Refusal("attachment.withdrawn", "That attachment has been withdrawn already.", {
              field: "attachmentId",
            });
          }
          requireOpenWork(db, attachment.subject);
          const withdrawn = { at, by: by.id, reason: input.reason };
          withdrawAttachment(db, attachment.id, withdrawn);
          audit({
            act: "attachments.withdraw",
            subject: "attachment",
            subjectId: attachment.id,
            reason: input.reason,
            detail: { withdrawn: true, subject: attachment.subject, fileName: attachment.fileName },
          });
          return { ...attachment, withdrawn };
        },
        findAttachment,
      ),
  };
}
