import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { LaboratorySettings } from "../records/laboratory.ts";
import { Id, Note, Reason, RequestId } from "../records/primitives.ts";
import {
  CalibrationApproval,
  Pin,
  PinState,
  SheetSignOffs,
  SheetStateLine,
  SIGNING_ERRORS,
  TypedPin,
} from "../records/sign-off.ts";

const VOUCHING = ["voucher.unfit"] as const;

export const signOffCalls = {
  "laboratory.settings": call({
    kind: "read",
    reads: ["laboratory"],
    input: Nothing,
    output: LaboratorySettings,
    errors: [],
  }),
  "laboratory.change": call({
    kind: "write",
    changes: ["laboratory", "trail"],
    input: z.strictObject({ requestId: RequestId, settings: LaboratorySettings, reason: Reason }),
    output: LaboratorySettings,
    errors: ["person.missing"],
  }),

  "sheets.signOffs": call({
    kind: "read",
    reads: ["sign-offs"],
    input: z.strictObject({ sheetId: Id }),
    output: SheetSignOffs,
    errors: ["sheet.unknown"],
  }),
  /** The state of every sheet that is not open. */
  "sheets.states": call({
    kind: "read",
    reads: ["sign-offs"],
    input: Nothing,
    output: z.array(SheetStateLine),
    errors: [],
  }),
  /** From now on every change asks for a reason. */
  "sheets.close": call({
    kind: "write",
    changes: ["sign-offs", "trail"],
    input: z.strictObject({ requestId: RequestId, sheetId: Id, words: Note }),
    output: SheetSignOffs,
    errors: ["person.missing", "sheet.unknown", "sheet.closed", "sheet.empty"],
  }),
  /** Back to measuring, with a reason; review and signature fall. */
  "sheets.reopen": call({
    kind: "write",
    changes: ["sign-offs", "trail"],
    input: z.strictObject({ requestId: RequestId, sheetId: Id, reason: Reason }),
    output: SheetSignOffs,
    errors: ["person.missing", "sheet.unknown", "sheet.not-closed"],
  }),
  /** By the person in use, who must not have measured on the sheet or closed it. */
  "sheets.review": call({
    kind: "write",
    changes: ["sign-offs", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      words: Note,
      /** Asked for where the laboratory says so; null elsewhere. */
      pin: TypedPin.nullable().default(null),
    }),
    output: SheetSignOffs,
    errors: [...SIGNING_ERRORS, "sheet.unknown", "sheet.not-closed", "sheet.reviewed", "review.own-work"],
  }),
  /** By the person named, who proves it with the PIN. */
  "sheets.sign": call({
    kind: "write",
    changes: ["sign-offs", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      sheetId: Id,
      personId: Id,
      pin: TypedPin,
      words: Note,
    }),
    output: SheetSignOffs,
    errors: [...SIGNING_ERRORS, "sheet.unknown", "sheet.not-closed", "sheet.not-reviewed", "sheet.signed"],
  }),

  "people.pins": call({
    kind: "read",
    reads: ["people", "pins"],
    input: Nothing,
    output: z.array(PinState),
    errors: [],
  }),
  /** Sets a PIN, or another one for which the present one is asked. */
  "people.setPin": call({
    kind: "write",
    changes: ["pins", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      personId: Id,
      pin: Pin,
      /** null when none is set. */
      presentPin: TypedPin.nullable(),
    }),
    output: PinState,
    errors: [...SIGNING_ERRORS],
  }),
  /** A confirmed person with a PIN answers for it that the PIN of another is in the hands of its owner. */
  "people.confirm": call({
    kind: "write",
    changes: ["pins", "trail"],
    input: z.strictObject({ requestId: RequestId, personId: Id, voucherId: Id, voucherPin: TypedPin }),
    output: PinState,
    errors: [...SIGNING_ERRORS, ...VOUCHING, "person.confirmed"],
  }),
  /** For a forgotten PIN: another person, confirmed before, vouches; then a new one may be set. */
  "people.clearPin": call({
    kind: "write",
    changes: ["pins", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      personId: Id,
      voucherId: Id,
      voucherPin: TypedPin,
      reason: Reason,
    }),
    output: PinState,
    errors: [...SIGNING_ERRORS, ...VOUCHING],
  }),
  /**
   * The owner confirms that the PIN was reset for them, and proves it by what the voucher did not have: the PIN of
   * before, or a third person who had been confirmed before the reset.
   */
  "people.confirmReset": call({
    kind: "write",
    changes: ["pins", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      personId: Id,
      pin: TypedPin,
      proof: z.discriminatedUnion("kind", [
        z.strictObject({ kind: z.literal("former PIN"), formerPin: TypedPin }),
        z.strictObject({ kind: z.literal("third person"), witnessId: Id, witnessPin: TypedPin }),
      ]),
    }),
    output: PinState,
    errors: [...SIGNING_ERRORS, ...VOUCHING, "pin.not-reset"],
  }),

  /** What stands beside the calibrations of a train, or of all trains when null. */
  "calibrations.approvals": call({
    kind: "read",
    reads: ["calibrations", "laboratory"],
    input: z.strictObject({ trainId: Id.nullable() }),
    output: z.array(CalibrationApproval),
    errors: [],
  }),
  /** By the person in use, who must be another than the one who calibrated and the one who put it in force. */
  "calibrations.confirm": call({
    kind: "write",
    changes: ["calibrations", "trail"],
    input: z.strictObject({ requestId: RequestId, calibrationId: Id, words: Note }),
    output: CalibrationApproval,
    errors: [
      "person.missing",
      "calibration.unknown",
      "calibration.not-in-force",
      "calibration.confirmed",
      "review.own-work",
    ],
  }),
} as const;
