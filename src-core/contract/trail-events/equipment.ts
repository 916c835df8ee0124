import { z } from "zod";
import { Attachment } from "../records/attachment.ts";
import { EquipmentEvent } from "../records/equipment-event.ts";
import { Eyepiece, Microscope, Objective } from "../records/microscope.ts";
import { CalendarDate, Id } from "../records/primitives.ts";
import { ServiceState } from "../records/service-state.ts";
import { Certificate, StageMicrometer } from "../records/stage-micrometer.ts";

const StateChange = ServiceState.pick({ state: true, from: true });
const EventRecorded = EquipmentEvent.pick({
  kind: true,
  happenedOn: true,
  words: true,
  trainIds: true,
  unchanged: true,
}).extend({ eventId: Id });

/** Microscopes, stage micrometers and their certificates, what is attached to them and what happened to them. */
export const EQUIPMENT_DETAILS = {
  "microscopes.register": { microscope: Microscope },
  "microscopes.addObjective": { microscope: z.strictObject({ objective: Objective }) },
  /** Of the one that left; the objective told is the one in its place. */
  "microscopes.replaceObjective": { objective: z.strictObject({ on: CalendarDate, objective: Objective }) },
  "microscopes.addEyepiece": { microscope: z.strictObject({ eyepiece: Eyepiece }) },
  "micrometers.register": { stage_micrometer: StageMicrometer },
  "certificates.register": { certificate: Certificate },
  /** The number is the one of the corrected certificate. */
  "certificates.replace": { certificate: z.strictObject({ replacedBy: Id, number: z.string() }) },
  "registers.setServiceState": {
    microscope: StateChange,
    objective: StateChange,
    eyepiece: StateChange,
    stage_micrometer: StateChange,
  },
  "events.record": { microscope: EventRecorded, objective: EventRecorded, eyepiece: EventRecorded },
  "attachments.finish": {
    attachment: Attachment.omit({ id: true, addedAt: true, addedBy: true, withdrawn: true }),
  },
  "attachments.withdraw": {
    attachment: Attachment.pick({ subject: true, fileName: true }).extend({ withdrawn: z.literal(true) }),
  },
} as const;
