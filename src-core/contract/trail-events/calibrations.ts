import { z } from "zod";
import { DECISION_RULES } from "../../vocabulary/decision-rules.ts";
import { Assessment } from "../records/assessment.ts";
import {
  CALIBRATION_STATES,
  CalibrationRecord,
  FactorRecord,
  NewCalibration,
} from "../records/calibration.ts";
import { CheckRecord } from "../records/check.ts";
import { CalendarDate, Id, Instant, Note, StoredDecimal } from "../records/primitives.ts";
import { RowStateTold } from "./sheets.ts";

const State = z.enum(CALIBRATION_STATES);

/** What a calibration in force rests on: typed settings and conditions, and the factor they gave. */
const Frozen = CalibrationRecord.pick({
  settings: true,
  conditions: true,
  estimator: true,
  coverage: true,
  remark: true,
}).extend({
  dueOn: CalendarDate.nullable(),
  ...FactorRecord.pick({ factor: true, expandedUncertainty: true, pooled: true }).shape,
  assessment: Assessment,
});

const Ended = z.strictObject({ from: State, to: State });

/** Calibrations, quick checks and the tolerance of trends. */
export const CALIBRATION_DETAILS = {
  "calibrations.begin": { calibration: NewCalibration },
  "calibrations.putInForce": { calibration: Frozen.extend({ supersedes: Id.nullable() }) },
  "calibrations.recalculate": {
    calibration: Frozen.extend({
      recalculatedFrom: Id,
      /** Null where it was recalculated by itself. */
      reevaluationId: Id.nullable(),
      certificateId: Id,
      state: State,
    }),
  },
  "calibrations.supersede": { calibration: Ended },
  "calibrations.withdraw": { calibration: Ended },
  "calibrations.assess": { calibration: z.strictObject({ assessment: Assessment }) },
  "calibrations.confirm": {
    calibration: z.strictObject({ words: Note, factor: StoredDecimal.nullable() }),
  },
  "checks.record": {
    calibration_check: CheckRecord.pick({
      trainId: true,
      calibrationId: true,
      certificateId: true,
      settings: true,
      temperature: true,
      remark: true,
      result: true,
    }),
  },
  /** A row's line: its flags followed the check. */
  "checks.withdraw": {
    calibration_check: z.strictObject({ trainId: Id, checkedAt: Instant, passed: z.boolean() }),
    specimen_row: RowStateTold,
  },
  /** Per cent before and after. */
  "trends.setTolerance": {
    tolerance: z.strictObject({ from: StoredDecimal, to: StoredDecimal, rule: z.enum(DECISION_RULES) }),
  },
} as const;
