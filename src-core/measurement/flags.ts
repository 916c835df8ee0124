import { LEAST_RESOLUTION_LIMITS, resolutionLimitUm } from "../optics/resolution.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { FLAG_KEYS, type FlagKey } from "../vocabulary/flag.ts";
import { divisionsNeeded } from "./divisions-needed.ts";
import { isOutsideHistory, type SizeHistory } from "./size-history.ts";
import { type TurretFactor, wrongObjectiveHint } from "./wrong-objective.ts";

/** What a label usually measures, µm, and from where that is known. */
export interface UsualSize {
  readonly median: Decimal;
  readonly n: number;
  readonly where: "on other sheets" | "on this sheet";
}

/** Everything a flag can depend on; null where it is not known or does not apply. */
export interface FlagInput {
  /** The two readings, div. */
  readonly left: Decimal;
  readonly right: Decimal;
  /** What all parts span together, div; left out where the object is read whole. */
  readonly together?: Decimal;
  /** True when one of the parts is half-taken; left out where the object is read whole. */
  readonly partUnfinished?: boolean;
  /** Number of divisions of the reticle's scale, which runs from 0. */
  readonly reticleDivisions: number;
  /** The method's least divisions. */
  readonly minimumDivisions: Decimal | null;
  /** Wanted uncertainty of a size, % at k = 2, and u of one pair of readings, div. */
  readonly wanted: { readonly percent: Decimal; readonly readingUncertainty: Decimal } | null;
  /** µm; null while there is no factor. */
  readonly size: Decimal | null;
  /** U of the size, µm; null while there is no size. */
  readonly expandedUncertainty: Decimal | null;
  /** µm/div; null while there is none. */
  readonly factor: Decimal | null;
  /** Other objectives behind the same changer setting, and other settings of the changer with this objective. */
  readonly otherObjectives: readonly TurretFactor[];
  readonly otherChangerSettings: readonly TurretFactor[];
  /** What this label measures on other sheets; null when too little is known. */
  readonly history: SizeHistory | null;
  /** The usual size that another factor could explain: on other sheets, else on this one; null when neither is known. */
  readonly usual: UsualSize | null;
  /** True when the size lies apart from the other values of this sheet; left out where nobody looked. */
  readonly apart?: boolean;
  readonly numericalAperture: Decimal | null;
  /** Calendar dates, ISO 8601. */
  readonly today: string;
  readonly calibrationDueOn: string | null;
  readonly certificateDueOn: string | null;
  /** True when the train is not to be used before a check. */
  readonly checkBeforeUse?: boolean;
  readonly headCompensated: boolean;
  readonly personId: string | null;
  readonly calibratedBy: string | null;
}

function isOffScale(input: FlagInput): boolean {
  return [input.left, input.right].some(
    (edge) => edge.lessThan(0) || edge.greaterThan(input.reticleDivisions),
  );
}

/** How many divisions the object spans. */
export function spanOf({ left, right, together }: FlagInput): Decimal {
  return together ?? right.minus(left).abs();
}

function isTooFewDivisions(input: FlagInput): boolean {
  const divisions = spanOf(input);
  const least = [
    input.minimumDivisions ?? decimal(0),
    input.wanted ? divisionsNeeded(input.wanted.readingUncertainty, input.wanted.percent) : decimal(0),
  ];
  return least.some((one) => divisions.lessThan(one));
}

function isNearResolution(input: FlagInput): boolean {
  if (input.size === null || input.numericalAperture === null) return false;
  return input.size.lessThan(resolutionLimitUm(input.numericalAperture).times(LEAST_RESOLUTION_LIMITS));
}

function isUncertaintyNotMet({ wanted, size, expandedUncertainty }: FlagInput): boolean {
  if (wanted === null || size === null || expandedUncertainty === null || size.isZero()) return false;
  return expandedUncertainty.times(100).div(size.abs()).greaterThan(wanted.percent);
}

/** What tells that another factor would make a size usual. */
export type HintInput = Pick<FlagInput, "size" | "factor" | "usual" | "history" | "apart">;

/**
 * Apart from the rest of this sheet, or, by ratio, twice as far from the median as the band of what the label measured
 * elsewhere reaches: in a label that spreads as widely as two objectives differ, a large value is no mistake. Our own rule.
 */
function isUnusual({ size, history, apart }: HintInput): boolean {
  if (apart === true) return true;
  if (size === null || history === null || !history.median.greaterThan(0)) return false;
  const { low, median, high } = history;
  return size.times(median).greaterThan(high.pow(2)) || size.times(median).lessThan(low.pow(2));
}

/** The other factor that would make an unusual size usual; null when the size is ordinary. */
export function otherFactorHint(
  input: HintInput,
  others: readonly TurretFactor[],
): ReturnType<typeof wrongObjectiveHint> {
  const { size, factor, usual } = input;
  if (size === null || factor === null || usual === null || !size.greaterThan(0) || !isUnusual(input)) {
    return null;
  }
  return wrongObjectiveHint(size, usual.median, factor, others);
}

function isOverdue(dueOn: string | null, today: string): boolean {
  return dueOn !== null && dueOn < today;
}

const TESTS: Record<FlagKey, (input: FlagInput) => boolean> = {
  "off-scale": isOffScale,
  "edges-reversed": (input) => input.right.lessThan(input.left),
  "part-unfinished": (input) => input.partUnfinished === true,
  "few-divisions": isTooFewDivisions,
  "uncertainty-not-met": isUncertaintyNotMet,
  "near-resolution": isNearResolution,
  "outside-sheet": ({ apart }) => apart === true,
  "outside-history": ({ size, history }) => isOutsideHistory(size, history),
  "wrong-objective": (input) => otherFactorHint(input, input.otherObjectives) !== null,
  "changer-forgotten": (input) => otherFactorHint(input, input.otherChangerSettings) !== null,
  "calibration-overdue": (input) => isOverdue(input.calibrationDueOn, input.today),
  "certificate-overdue": (input) => isOverdue(input.certificateDueOn, input.today),
  "check-before-use": (input) => input.checkBeforeUse === true,
  "person-differs": (input) =>
    !input.headCompensated &&
    input.personId !== null &&
    input.calibratedBy !== null &&
    input.personId !== input.calibratedBy,
};

/** The flags of one dimension of one row, in the order of `FLAG_KEYS`. They inform and never block. */
export function flagsOf(input: FlagInput): FlagKey[] {
  return FLAG_KEYS.filter((key) => TESTS[key](input));
}

/** What each flag means and what to do about it, for screen and workbook. */
export const FLAG_WORDS: Readonly<Record<FlagKey, { readonly meaning: string; readonly whatToDo: string }>> =
  {
    "off-scale": {
      meaning: "A reading lies outside the reticle's scale.",
      whatToDo:
        "Check the figure typed; an object longer than the scale is measured in parts or with a lower objective.",
    },
    "edges-reversed": {
      meaning: "The right edge was read left of the left edge; the size is the distance between them.",
      whatToDo: "Check that both readings belong to this object, and read the left edge first.",
    },
    "part-unfinished": {
      meaning: "A part was begun and is not read at both of its ends; the size lacks it.",
      whatToDo: "Read its other end.",
    },
    "few-divisions": {
      meaning: "The object spans too few divisions for the uncertainty wanted.",
      whatToDo: "Measure it with a higher objective, or repeat the reading.",
    },
    "uncertainty-not-met": {
      meaning: "The uncertainty of this size is larger than the method wants.",
      whatToDo: "Measure it with the objective named, or read it more often and let the mean count.",
    },
    "near-resolution": {
      meaning:
        "The object is smaller than ten times the objective's resolution limit, so where its edges lie matters.",
      whatToDo:
        "Use an objective of higher numerical aperture, or report the size with an uncertainty for the edges.",
    },
    "outside-sheet": {
      meaning:
        "The size lies apart from the other values of its label on this sheet (generalized ESD test, risk at most 2 % per label and dimension however long it grows).",
      whatToDo:
        "Look at both readings for a slip and at the objective; a true exception is kept with a note.",
    },
    "outside-history": {
      meaning: "The size lies outside the middle 95 % of what this label measured on other sheets.",
      whatToDo: "Look at the objective, the label and both readings; a true exception is kept with a note.",
    },
    "wrong-objective": {
      meaning:
        "With another objective of this turret the same divisions would give the usual size of this label.",
      whatToDo:
        "Look which objective is in the light path; if it is the other one, change the objective of the row.",
    },
    "changer-forgotten": {
      meaning:
        "With another setting of the magnification changer the same divisions would give the usual size of this label.",
      whatToDo:
        "Look at the changer; readings taken behind another setting belong on a sheet of that setting.",
    },
    "calibration-overdue": {
      meaning: "The calibration of this train is past its due date.",
      whatToDo: "Calibrate the train again; sizes keep the factor they were converted with.",
    },
    "certificate-overdue": {
      meaning: "The certificate of the stage micrometer behind this factor is past its due date.",
      whatToDo: "Have the stage micrometer calibrated, or set a new due date with its reason.",
    },
    "check-before-use": {
      meaning:
        "Something happened to this train that may have changed its factor, a check of it failed, or it is out of service.",
      whatToDo:
        "Check or calibrate the train; when the factor has changed, re-evaluate what was measured since.",
    },
    "person-differs": {
      meaning:
        "Another person calibrated this train, and the head changes its tube length with the distance of the eyes.",
      whatToDo: "Set the head to the distance of the calibration, or calibrate with your own settings.",
    },
  };
