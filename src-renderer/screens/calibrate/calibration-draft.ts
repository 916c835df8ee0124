import type { CallInput } from "#core/contract/calls.ts";
import type { CalibrationRecord, TypedConditions, TypedSetting } from "#core/contract/records/calibration.ts";
import { withBlankEnd, withoutBlankEnd } from "./settings-rows.ts";

/** A calibration as it is being typed: the rows with a blank one at the end. */
export interface CalibrationDraft {
  readonly settings: readonly TypedSetting[];
  readonly conditions: TypedConditions;
  readonly estimator: CalibrationRecord["estimator"];
  readonly coverage: CalibrationRecord["coverage"];
  readonly remark: string;
}

export function draftOf(record: CalibrationRecord): CalibrationDraft {
  const { conditions, estimator, coverage, remark } = record;
  const settings = record.state === "draft" ? withBlankEnd(record.settings) : record.settings;
  return { settings, conditions, estimator, coverage, remark };
}

export function inputOf(calibrationId: string, draft: CalibrationDraft): CallInput<"calibrations.keepDraft"> {
  return { calibrationId, ...draft, settings: [...withoutBlankEnd(draft.settings)] };
}
