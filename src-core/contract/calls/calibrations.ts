import { z } from "zod";
import { call } from "../call.ts";
import {
  CALIBRATION_STATES,
  CalibrationDraft,
  CalibrationRecord,
  CalibrationSummary,
  NewCalibration,
  PooledRecord,
  PutInForce,
} from "../records/calibration.ts";
import { CalibrationSearch } from "../records/list-search.ts";
import { Id, Reason, RequestId } from "../records/primitives.ts";
import { CalibrationApproval } from "../records/sign-off.ts";

export const calibrationCalls = {
  /** Newest first; all trains when `trainId` is null. */
  "calibrations.list": call({
    kind: "read",
    reads: ["calibrations"],
    input: z.strictObject({ trainId: Id.nullable() }),
    output: z.array(CalibrationRecord),
    errors: [],
  }),
  /** Newest first, `count` of them from place `from` (0 is the newest), and how many there are; in any state when null. */
  "calibrations.summaries": call({
    kind: "read",
    reads: ["calibrations"],
    input: z.strictObject({
      state: z.enum(CALIBRATION_STATES).nullable(),
      from: z.int().min(0),
      count: z.int().min(1).max(20_000),
      search: CalibrationSearch.optional(),
    }),
    output: z.strictObject({ total: z.int(), calibrations: z.array(CalibrationSummary) }),
    errors: [],
  }),
  "calibrations.get": call({
    kind: "read",
    reads: ["calibrations"],
    input: z.strictObject({ calibrationId: Id }),
    output: CalibrationRecord,
    errors: ["calibration.unknown"],
  }),
  /** Opens a draft with the default conditions; an open draft of the same train, micrometer and certificate is continued. */
  "calibrations.begin": call({
    kind: "write",
    changes: ["calibrations", "trail"],
    input: z.strictObject({ requestId: RequestId, calibration: NewCalibration }),
    output: CalibrationRecord,
    errors: [
      "person.missing",
      "train.unknown",
      "micrometer.unknown",
      "certificate.unknown",
      "certificate.replaced",
      "item.out-of-service",
    ],
  }),
  /** Keeps a draft as typed, complete or not; unreadable numbers are kept too and refused only when put in force. */
  "calibrations.keepDraft": call({
    kind: "write",
    changes: ["calibrations"],
    input: CalibrationDraft,
    output: CalibrationRecord,
    errors: ["person.missing", "calibration.unknown", "calibration.closed"],
  }),
  /** Recomputes from the typed settings, freezes the result, supersedes the factor before. */
  "calibrations.putInForce": call({
    kind: "write",
    changes: ["calibrations", "trail"],
    input: PutInForce.extend({ requestId: RequestId }),
    output: CalibrationRecord,
    errors: [
      "person.missing",
      "calibration.unknown",
      "calibration.closed",
      "calibration.incomplete",
      "calibration.implausible",
      "certificate.replaced",
    ],
  }),
  /** How well one setting repeats: of the person's calibrations, else of the bench's, else the stated default. */
  "calibrations.repeatability": call({
    kind: "read",
    reads: ["calibrations"],
    input: z.strictObject({ personId: Id }),
    output: PooledRecord,
    errors: [],
  }),
  /**
   * What is known of the scatter of one setting of a person, each origin by itself: settings, repeat readings of
   * specimens, practice. Those with too few degrees of freedom are left out.
   */
  "calibrations.scatters": call({
    kind: "read",
    reads: ["calibrations", "rows", "practice"],
    input: z.strictObject({ personId: Id }),
    output: z.array(PooledRecord),
    errors: [],
  }),
  /** Assesses a calibration anew by the rule in use; the assessments before are kept. */
  "calibrations.assess": call({
    kind: "write",
    changes: ["calibrations", "trail"],
    input: z.strictObject({ requestId: RequestId, calibrationId: Id, reason: Reason }),
    output: CalibrationApproval,
    errors: ["person.missing", "calibration.unknown", "calibration.no-factor"],
  }),
  "calibrations.withdraw": call({
    kind: "write",
    changes: ["calibrations", "trail"],
    input: z.strictObject({ requestId: RequestId, calibrationId: Id, reason: Reason }),
    output: CalibrationRecord,
    errors: ["person.missing", "calibration.unknown", "calibration.closed"],
  }),
} as const;
