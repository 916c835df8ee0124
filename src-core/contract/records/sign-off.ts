import { z } from "zod";
import { KeptAssessment } from "./assessment.ts";
import { Id, Instant, Note } from "./primitives.ts";

/** In order; an amendment brings a reviewed or signed sheet back to `closed`. */
export const SHEET_STATES = ["open", "closed", "reviewed", "signed"] as const;
export type SheetState = (typeof SHEET_STATES)[number];

/** Closing, review or signature of a sheet; one that no longer stands keeps when, by whom and why it fell. */
export const SignOff = z.strictObject({
  id: Id,
  sheetId: Id,
  kind: z.enum(["closed", "reviewed", "signed"]),
  at: Instant,
  by: Id,
  words: Note,
  /** SHA-256 of sample, note, rows, readings and results as they stood. */
  dataSha256: z.string().regex(/^[0-9a-f]{64}$/),
  ended: z.strictObject({ at: Instant, by: Id, reason: z.string() }).nullable(),
  /** The PIN it was given with had been reset, and its owner had not confirmed that; absent where nothing is to be said. */
  pinReset: z.strictObject({ at: Instant, voucher: Id }).optional(),
});
export type SignOff = z.infer<typeof SignOff>;

export const SheetSignOffs = z.strictObject({
  sheetId: Id,
  state: z.enum(SHEET_STATES),
  /** True when it had been signed and an amendment took that away. */
  asksForSignature: z.boolean(),
  /** Newest first. */
  signOffs: z.array(SignOff),
});
export type SheetSignOffs = z.infer<typeof SheetSignOffs>;

/** Typed by the person alone; never stored, logged or told to the trail. */
export const Pin = z
  .string()
  .min(4, "is too short: at least 4 characters")
  .max(64, "is too long: at most 64 characters");

/** A PIN as typed, right or wrong. */
export const TypedPin = z.string().max(200);

/** Why a call that asks for a PIN is refused. */
export const SIGNING_ERRORS = [
  "person.missing",
  "person.unknown",
  "person.set-aside",
  "pin.missing",
  "pin.wrong",
  "pin.blocked",
] as const;

export const PinState = z.strictObject({
  personId: Id,
  hasPin: z.boolean(),
  setAt: Instant.nullable(),
  /** By whom: by the person alone where it was the first PIN of the bench, or one from before confirmations. */
  confirmed: z.strictObject({ at: Instant, by: Id }).nullable(),
  /** The last reset that the owner has not confirmed: until then it marks every signature. */
  reset: z.strictObject({ at: Instant, voucher: Id, reason: z.string() }).nullable(),
});
export type PinState = z.infer<typeof PinState>;

/** What stands beside a calibration and was not measured with it. */
export const CalibrationApproval = z.strictObject({
  calibrationId: Id,
  origin: z.enum(["measured", "recalculated"]),
  /** The calibration whose settings it was recalculated from. */
  recalculatedFrom: Id.nullable(),
  confirmation: z.strictObject({ at: Instant, by: Id, words: Note }).nullable(),
  /** By the rule in use when each was made, newest first; none of a calibration put in force under an older rule. */
  assessments: z.array(KeptAssessment),
  /** True when the laboratory asks for a confirmation that is not there yet. */
  confirmationWanted: z.boolean(),
});
export type CalibrationApproval = z.infer<typeof CalibrationApproval>;

/** What one sheet of a list is, by the sign-offs that stand. */
export const SheetStateLine = z.strictObject({
  sheetId: Id,
  state: z.enum(SHEET_STATES),
  /** It had been signed, and the signature fell. */
  asksForSignature: z.boolean(),
});
export type SheetStateLine = z.infer<typeof SheetStateLine>;
