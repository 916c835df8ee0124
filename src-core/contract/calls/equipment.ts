import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { Attachment, AttachmentSubject, Base64, NewAttachment, Sha256 } from "../records/attachment.ts";
import { CheckRecord, NewCheck } from "../records/check.ts";
import { DueWork } from "../records/due-work.ts";
import { EquipmentEvent, NewEquipmentEvent } from "../records/equipment-event.ts";
import { ExportedFile } from "../records/exchange.ts";
import { CalendarDate, Id, Reason, RequestId } from "../records/primitives.ts";
import {
  CertificateReplacement,
  ItemKind,
  ItemRef,
  SERVICE_STATES,
  ServiceState,
} from "../records/service-state.ts";
import { Certificate, NewCertificate } from "../records/stage-micrometer.ts";
import { TrailLine } from "../records/trail.ts";

export const equipmentCalls = {
  /** The present state of every item that was ever taken out of service; all others are in service. */
  "registers.serviceStates": call({
    kind: "read",
    reads: ["service states"],
    input: Nothing,
    output: z.array(ServiceState),
    errors: [],
  }),
  "registers.setServiceState": call({
    kind: "write",
    changes: ["service states", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      item: ItemRef,
      state: z.enum(SERVICE_STATES),
      from: CalendarDate,
      reason: Reason,
    }),
    output: ServiceState,
    errors: ["person.missing", "item.unknown", "item.unchanged", "item.out-of-service"],
  }),
  /** What the trail tells about an item and what belongs to it, newest first, at most 500 lines; and its states. */
  "registers.history": call({
    kind: "read",
    reads: ["trail", "service states"],
    input: z.strictObject({ kind: z.enum([...ItemKind.options, "certificate", "person"]), id: Id }),
    output: z.strictObject({ lines: z.array(TrailLine), states: z.array(ServiceState) }),
    errors: ["item.unknown"],
  }),
  /** Registers the corrected certificate and names the one it replaces, which is not used any more from then on. */
  "certificates.replace": call({
    kind: "write",
    changes: ["micrometers", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      certificateId: Id,
      certificate: NewCertificate,
      reason: Reason,
    }),
    output: Certificate,
    errors: [
      "person.missing",
      "micrometer.unknown",
      "certificate.unknown",
      "certificate.taken",
      "certificate.replaced",
    ],
  }),
  "certificates.replacements": call({
    kind: "read",
    reads: ["micrometers"],
    input: Nothing,
    output: z.array(CertificateReplacement),
    errors: [],
  }),

  /** All attachments of a subject, or all there are when null; newest first, withdrawn ones too. */
  "attachments.list": call({
    kind: "read",
    reads: ["attachments"],
    input: z.strictObject({ subject: AttachmentSubject.nullable() }),
    output: z.array(Attachment),
    errors: [],
  }),
  /** Pictures on the rows of a sheet, also on those that an undo took away; newest first, withdrawn ones too. */
  "attachments.ofSheet": call({
    kind: "read",
    reads: ["attachments"],
    input: z.strictObject({ sheetId: Id }),
    output: z.array(Attachment),
    errors: ["sheet.unknown"],
  }),
  /** Pictures on the fields of a count, also on those that an undo took away; newest first, withdrawn ones too. */
  "attachments.ofCount": call({
    kind: "read",
    reads: ["attachments"],
    input: z.strictObject({ countId: Id }),
    output: z.array(Attachment),
    errors: ["count.unknown"],
  }),
  /** Opens an upload; nothing is stored before `attachments.finish`. */
  "attachments.begin": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ attachment: NewAttachment }),
    output: z.strictObject({ uploadId: Id, partBytes: z.int() }),
    errors: ["person.missing", "subject.unknown", "sheet.closed", "count.closed"],
  }),
  /** Parts in order from 0, each of `partBytes` but the last; the same part again is answered without harm. */
  "attachments.part": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ uploadId: Id, index: z.int().min(0), base64: Base64 }),
    output: z.strictObject({ received: z.int() }),
    errors: ["upload.unknown", "upload.out-of-order", "upload.too-long"],
  }),
  /** Checks size and type and keeps the file beside the database. */
  "attachments.finish": call({
    kind: "write",
    changes: ["attachments", "trail"],
    input: z.strictObject({ requestId: RequestId, uploadId: Id }),
    output: Attachment,
    errors: [
      "person.missing",
      "subject.unknown",
      "upload.unknown",
      "upload.incomplete",
      "attachment.type",
      "attachment.too-many-points",
      "sheet.closed",
      "count.closed",
      "file.unwritable",
    ],
  }),
  /** Bytes from `from`, checked against the SHA-256 before any is given out; `next` is null at the end. */
  "attachments.read": call({
    kind: "read",
    reads: ["attachments"],
    input: z.strictObject({ attachmentId: Id, from: z.int().min(0) }),
    output: z.strictObject({ base64: Base64, next: z.int().nullable(), sha256: Sha256 }),
    errors: ["attachment.unknown", "attachment.missing", "attachment.damaged"],
  }),
  /** A copy in the export folder, or where the person chooses; null when they cancel. */
  "attachments.export": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ attachmentId: Id }),
    output: ExportedFile.nullable(),
    errors: ["attachment.unknown", "attachment.missing", "attachment.damaged", "file.unwritable"],
  }),
  "attachments.withdraw": call({
    kind: "write",
    changes: ["attachments", "trail"],
    input: z.strictObject({ requestId: RequestId, attachmentId: Id, reason: Reason }),
    output: Attachment,
    errors: ["person.missing", "attachment.unknown", "attachment.withdrawn", "sheet.closed", "count.closed"],
  }),

  /** Newest first; all of them when null. */
  "events.list": call({
    kind: "read",
    reads: ["events", "checks", "calibrations"],
    input: z.strictObject({ microscopeId: Id.nullable() }),
    output: z.array(EquipmentEvent),
    errors: [],
  }),
  "events.record": call({
    kind: "write",
    changes: ["events", "trail"],
    input: z.strictObject({ requestId: RequestId, event: NewEquipmentEvent }),
    output: EquipmentEvent,
    errors: ["person.missing", "item.unknown"],
  }),

  /** Newest first; of all trains when null. */
  "checks.list": call({
    kind: "read",
    reads: ["checks"],
    input: z.strictObject({ trainId: Id.nullable() }),
    output: z.array(CheckRecord),
    errors: [],
  }),
  "checks.record": call({
    kind: "write",
    changes: ["checks", "events", "trail"],
    input: z.strictObject({ requestId: RequestId, check: NewCheck }),
    output: CheckRecord,
    errors: [
      "person.missing",
      "train.unknown",
      "micrometer.unknown",
      "certificate.unknown",
      "certificate.replaced",
      "item.out-of-service",
      "factor.missing",
      "check.implausible",
    ],
  }),
  /**
   * The check counts for nothing from then on: state of the train, due dates, trends and the flag “check before use” of
   * what was read since are as if it had not been.
   */
  "checks.withdraw": call({
    kind: "write",
    changes: ["checks", "events", "rows", "sheets", "sign-offs", "counts", "trail"],
    input: z.strictObject({ requestId: RequestId, checkId: Id, reason: Reason }),
    output: CheckRecord,
    errors: ["person.missing", "check.unknown", "check.withdrawn"],
  }),

  /** What is overdue or falls due within so many days. */
  "due.list": call({
    kind: "read",
    reads: [
      "people",
      "laboratory",
      "microscopes",
      "micrometers",
      "service states",
      "events",
      "checks",
      "calibrations",
      "practice",
    ],
    input: z.strictObject({ withinDays: z.int().min(0).max(3650) }),
    output: DueWork,
    errors: [],
  }),
} as const;
