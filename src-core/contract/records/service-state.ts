import { z } from "zod";
import { CalendarDate, Id, Instant, Reason } from "./primitives.ts";

/** Registered things that can be taken out of service. The reticle goes with its eyepiece. */
export const ITEM_KINDS = ["microscope", "objective", "eyepiece", "stage micrometer"] as const;
export const ItemKind = z.enum(ITEM_KINDS);
export type ItemKind = z.infer<typeof ItemKind>;

export const ItemRef = z.strictObject({ kind: ItemKind, id: Id });
export type ItemRef = z.infer<typeof ItemRef>;

export const SERVICE_STATES = ["in service", "out of service"] as const;

/** One change of an item's state (ISO/IEC 17025:2017 6.4.9). An item without any is in service since its registration. */
export const ServiceState = z.strictObject({
  item: ItemRef,
  state: z.enum(SERVICE_STATES),
  from: CalendarDate,
  reason: Reason,
  at: Instant,
  by: Id,
});
export type ServiceState = z.infer<typeof ServiceState>;

/** A corrected certificate in the place of the one it names. */
export const CertificateReplacement = z.strictObject({
  certificateId: Id,
  replacedBy: Id,
  reason: Reason,
  at: Instant,
  by: Id,
});
export type CertificateReplacement = z.infer<typeof CertificateReplacement>;
