import { z } from "zod";
import { PooledRecord, TypedSetting } from "./calibration.ts";
import { Id, Instant, Note, Reason, StoredDecimal, TypedNumber } from "./primitives.ts";

/** A quick check of the factor in force as typed: one setting is enough. */
export const NewCheck = z.strictObject({
  trainId: Id,
  stageMicrometerId: Id,
  certificateId: Id,
  settings: z.array(TypedSetting).min(1, "needs at least one setting").max(20),
  /** Empty: the temperature assumed at the calibration. °C */
  temperature: TypedNumber,
  remark: Note,
});

/** What came out, µm/div. `compared` says what entered the limit: with another certificate nothing cancels out. */
export const CheckResult = z.strictObject({
  factor: StoredDecimal,
  factorInForce: StoredDecimal,
  /** check − in force. */
  difference: StoredDecimal,
  relativeDifference: StoredDecimal,
  /** Largest difference that may be chance: 2·√(u² + u_check²). */
  limit: StoredDecimal,
  /** |difference|/limit: passed up to 1. */
  ratio: StoredDecimal,
  compared: z.enum(["occasion", "whole"]),
  passed: z.boolean(),
  /** The repeatability that the check was judged with; absent in checks of rule 1. */
  pooled: PooledRecord.optional(),
  /** What most likely made it fail, best fit first, as named when it was recorded; left out where nothing was. */
  suspects: z.array(z.strictObject({ cause: z.string(), whatToDo: z.string() })).optional(),
});
export type CheckResult = z.infer<typeof CheckResult>;

/** A mistaken check taken back: it stays to be read and counts for nothing. */
export const CheckWithdrawal = z.strictObject({ at: Instant, by: Id, reason: Reason });
export type CheckWithdrawal = z.infer<typeof CheckWithdrawal>;

/** An intermediate check (ISO/IEC 17025:2017 6.4.10) against the factor that was in force then. */
export const CheckRecord = z.strictObject({
  id: Id,
  trainId: Id,
  calibrationId: Id,
  stageMicrometerId: Id,
  certificateId: Id,
  settings: z.array(TypedSetting),
  temperature: TypedNumber,
  remark: Note,
  result: CheckResult,
  checkedAt: Instant,
  checkedBy: Id,
  withdrawn: CheckWithdrawal.nullable(),
});
export type CheckRecord = z.infer<typeof CheckRecord>;
