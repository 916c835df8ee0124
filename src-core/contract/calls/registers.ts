import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { Microscope, NewEyepiece, NewMicroscope, NewObjective } from "../records/microscope.ts";
import { CalendarDate, Id, Reason, RequestId } from "../records/primitives.ts";
import {
  Certificate,
  NewCertificate,
  NewStageMicrometer,
  StageMicrometer,
} from "../records/stage-micrometer.ts";

export const registerCalls = {
  "microscopes.list": call({
    kind: "read",
    reads: ["microscopes"],
    input: Nothing,
    output: z.array(Microscope),
    errors: [],
  }),
  "microscopes.register": call({
    kind: "write",
    changes: ["microscopes", "trail"],
    input: z.strictObject({ requestId: RequestId, microscope: NewMicroscope }),
    output: Microscope,
    errors: ["person.missing", "microscope.taken", "objective.taken"],
  }),
  "microscopes.addObjective": call({
    kind: "write",
    changes: ["microscopes", "trail"],
    input: z.strictObject({ requestId: RequestId, microscopeId: Id, objective: NewObjective }),
    output: Microscope,
    errors: ["person.missing", "microscope.unknown", "objective.taken"],
  }),
  /**
   * Another objective in the position of one that left the turret that day. The old one keeps its history; its trains
   * end, and no new reading is taken with them. The new one has no factor until it is calibrated.
   */
  "microscopes.replaceObjective": call({
    kind: "write",
    changes: ["microscopes", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      microscopeId: Id,
      objectiveId: Id,
      on: CalendarDate,
      reason: Reason,
      objective: NewObjective.omit({ position: true }),
    }),
    output: Microscope,
    errors: ["person.missing", "microscope.unknown", "objective.unknown", "objective.replaced"],
  }),
  "microscopes.addEyepiece": call({
    kind: "write",
    changes: ["microscopes", "trail"],
    input: z.strictObject({ requestId: RequestId, microscopeId: Id, eyepiece: NewEyepiece }),
    output: Microscope,
    errors: ["person.missing", "microscope.unknown"],
  }),
  "micrometers.list": call({
    kind: "read",
    reads: ["micrometers"],
    input: Nothing,
    output: z.array(StageMicrometer),
    errors: [],
  }),
  "micrometers.register": call({
    kind: "write",
    changes: ["micrometers", "trail"],
    input: z.strictObject({ requestId: RequestId, micrometer: NewStageMicrometer }),
    output: StageMicrometer,
    errors: ["person.missing", "micrometer.taken"],
  }),
  "certificates.register": call({
    kind: "write",
    changes: ["micrometers", "trail"],
    input: z.strictObject({ requestId: RequestId, certificate: NewCertificate }),
    output: Certificate,
    errors: ["person.missing", "micrometer.unknown", "certificate.taken"],
  }),
} as const;
