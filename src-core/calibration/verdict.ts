import { Decimal, ZERO } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { roundToSignificant } from "../quantity/rounding.ts";
import type { FindingState, VerdictOutcome } from "../vocabulary/rules.ts";
import { type Agreement, agreementOf, type ComparedFactor } from "./agreement.ts";
import type { CalibrationResult } from "./calibration.ts";
import { type AcceptanceLimit, type LimitKey, type Limits, PROPOSED_LIMITS } from "./limits.ts";
import type { Linearity } from "./linearity.ts";
import { isTested, type PatternTest } from "./pattern-test.ts";
import { howToTestBow, howToTestHalves, type Untested, whyUntested } from "./pattern-words.ts";

/** The factor this train had before. */
export interface EarlierFactor extends ComparedFactor {
  /** The part of its u that comes from the micrometer and the train, µm/div. */
  readonly commonUncertainty: Decimal;
  readonly sameMicrometer: boolean;
}

export interface VerdictInput {
  readonly result: CalibrationResult;
  readonly linearity: Linearity | null;
  /** Reticle pitch over magnification, µm/div; null when it is not known. */
  readonly nominal: Decimal | null;
  /** null for the first calibration of a train. */
  readonly earlier: EarlierFactor | null;
  readonly limits: Limits;
}

/** One comparison with one limit. */
export interface Finding {
  readonly key: LimitKey;
  readonly name: string;
  readonly state: FindingState;
  /** In the limit's unit; null when not tested. */
  readonly measured: Decimal | null;
  readonly limit: Decimal;
  readonly unit: AcceptanceLimit["unit"];
  /** One sentence for a person: what was found, against which limit, or why it was not tested. */
  readonly words: string;
}

/** The verdict on a calibration. It advises: putting a factor in force stays a person's decision. */
export interface Verdict {
  readonly outcome: VerdictOutcome;
  readonly findings: readonly Finding[];
  /** One setting only: its repeatability is not its own. */
  readonly single: boolean;
  /** Findings of the linearity tests, in words. */
  readonly remarks: readonly string[];
  readonly agreement: Agreement | null;
}

function shown(value: Decimal): string {
  return roundToSignificant(value, 3).toFixed();
}

function withUnit(value: Decimal, unit: AcceptanceLimit["unit"]): string {
  return unit === "1" ? shown(value) : `${shown(value)} ${unit}`;
}

interface Measured {
  readonly key: LimitKey;
  /** Signed; the limit is on its size. A string says why it was not tested. */
  readonly value: Decimal | string;
  /** True for a limit that is a least value. */
  readonly least?: boolean;
}

function findingOf({ key, value, least }: Measured, limits: Limits): Finding {
  const { name, unit } = PROPOSED_LIMITS[key];
  const limit = limits[key];
  const base = { key, name, limit, unit };
  if (typeof value === "string") {
    return {
      ...base,
      state: "not tested",
      measured: null,
      words: `Not tested: ${value.replace(/\.$/, "")}.`,
    };
  }
  const within = least ? value.greaterThanOrEqualTo(limit) : value.abs().lessThanOrEqualTo(limit);
  const bound = `${least ? "at least" : "at most"} ${withUnit(limit, unit)}`;
  return {
    ...base,
    state: within ? "within" : "beyond",
    measured: value,
    words: `${withUnit(value, unit)}; limit ${bound}.`,
  };
}

const SINGLE = "one setting only, so its scatter is taken from earlier ones";

function rangeOf(result: CalibrationResult): Decimal | string {
  const ratios = result.settings.map((one) => one.ratio);
  if (ratios.length < 2) return SINGLE;
  const spread = Decimal.max(...ratios).minus(Decimal.min(...ratios));
  const mean = ratios.reduce((sum, ratio) => sum.plus(ratio), ZERO).div(ratios.length);
  return spread.div(mean).times(100);
}

function untestedOf(linearity: Linearity, test: PatternTest | null, limit: Decimal): Untested {
  return { test, limit, settings: linearity.placed, reading: linearity.reading };
}

const NO_SETTINGS = "no setting is complete";

/** The halves as measured; where no settings cover them, as the slope along the scale tells. */
function halvesFinding(linearity: Linearity | null, limits: Limits): Decimal | string {
  if (!linearity) return NO_SETTINGS;
  const limit = limits.halves.div(100);
  const test = linearity.halves?.test ?? linearity.field.slope;
  if (test && isTested(test, limit)) return test.value.times(100);
  const untested = untestedOf(linearity, test, limit);
  return `${whyUntested(untested)}. ${howToTestHalves(untested)}`;
}

function fieldFinding(linearity: Linearity | null, limits: Limits): Decimal | string {
  if (!linearity) return NO_SETTINGS;
  const { bow, bowTested } = linearity.field;
  if (bow && bowTested) return bow.value.times(100);
  const untested = untestedOf(linearity, bow, limits.field.div(100));
  return `${whyUntested(untested)}. ${howToTestBow(untested)}`;
}

function offsetFinding(linearity: Linearity | null, limits: Limits): Decimal | string {
  if (!linearity) return NO_SETTINGS;
  const { offset, placed } = linearity;
  const limit = limits.offset.div(100);
  if (offset && isTested(offset, limit)) return offset.value.times(100);
  const why = whyUntested(untestedOf(linearity, offset, limit));
  return placed.length < 3
    ? why
    : `${why}. To test it take short spans as well as long ones, several of each.`;
}

function deviationFrom(result: CalibrationResult, nominal: Decimal | null): Decimal | string {
  if (nominal === null) return "the nominal factor of this train is not known";
  return result.factor.div(requirePositive("nominal", nominal)).minus(1).times(100);
}

/** What two calibrations of one train share; nothing of the certificate with different micrometers. */
function sharedPart(result: CalibrationResult, earlier: EarlierFactor): Decimal {
  return earlier.sameMicrometer
    ? Decimal.min(
        result.commonUncertainty,
        earlier.commonUncertainty,
        result.uncertainty.standard,
        earlier.standardUncertainty,
      )
    : ZERO;
}

function agreementWith(result: CalibrationResult, earlier: EarlierFactor | null): Agreement | null {
  if (earlier === null || earlier.standardUncertainty.isZero() || result.uncertainty.standard.isZero()) {
    return null;
  }
  return agreementOf({
    earlier,
    later: {
      factor: result.factor,
      standardUncertainty: result.uncertainty.standard,
      expandedUncertainty: result.uncertainty.expanded,
    },
    sharedUncertainty: sharedPart(result, earlier),
  });
}

function outcomeOf(findings: readonly Finding[], remarks: readonly string[]): VerdictOutcome {
  const beyond = findings.filter((one) => one.state === "beyond");
  if (beyond.some((one) => one.key === "change-stop")) return "stop";
  return beyond.length > 0 || remarks.length > 0 ? "investigate" : "accept";
}

/**
 * Compares a calibration with every limit: span, repeatability, range, deviation from nominal, change and agreement with
 * the factor before, and the halves of the scale. `stop` when the change exceeds the stopping limit, `investigate` when
 * any other limit is exceeded or the linearity tests found something, `accept` otherwise.
 */
export function verdictOf(input: VerdictInput): Verdict {
  const { result, linearity, nominal, earlier, limits } = input;
  const first = "this is the first calibration of the train";
  const change: Decimal | string = earlier
    ? result.factor.div(requirePositive("earlier.factor", earlier.factor)).minus(1).times(100)
    : first;
  const agreement = agreementWith(result, earlier);
  const findings = (
    [
      { key: "span", value: result.span, least: true },
      {
        key: "relative-deviation",
        value: result.relativeDeviation ? result.relativeDeviation.times(100) : SINGLE,
      },
      { key: "range", value: rangeOf(result) },
      { key: "nominal-deviation", value: deviationFrom(result, nominal) },
      { key: "change-investigate", value: change },
      { key: "change-stop", value: change },
      { key: "halves", value: halvesFinding(linearity, limits) },
      { key: "field", value: fieldFinding(linearity, limits) },
      { key: "offset", value: offsetFinding(linearity, limits) },
      {
        key: "agreement",
        value: agreement ? agreement.normalisedErrorApart : earlier ? "an uncertainty is zero" : first,
      },
    ] satisfies Measured[]
  ).map((measured) => findingOf(measured, limits));
  const remarks = linearity?.findings ?? [];
  const isSingle = result.settings.length < 2;
  return { outcome: outcomeOf(findings, remarks), single: isSingle, findings, remarks, agreement };
}
