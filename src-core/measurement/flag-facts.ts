import type { RepeatReading, SizeRecord } from "../contract/records/sheet.ts";
import { LEAST_RESOLUTION_LIMITS, resolutionLimitUm } from "../optics/resolution.ts";
import type { Decimal } from "../quantity/decimal.ts";
import { trueMinus } from "../quantity/printed-number.ts";
import { roundToSignificant } from "../quantity/rounding.ts";
import { FLAG_KEYS, type FlagKey } from "../vocabulary/flag.ts";
import { divisionsNeeded } from "./divisions-needed.ts";
import { type FlagInput, flagsOf, otherFactorHint, spanOf } from "./flags.ts";
import { type FlagSurroundings, flagInputs, plannedTrains } from "./measurement-flags.ts";
import type { PlannedTrain } from "./measuring-plan.ts";
import type { TurretFactor } from "./wrong-objective.ts";

/** One number behind a flag: what it is, and its value with the unit. */
export interface FlagFact {
  readonly name: string;
  readonly value: string;
}

/** A flag with the numbers that raised it. */
export interface FlagExplanation {
  readonly flag: FlagKey;
  readonly facts: readonly FlagFact[];
}

const fact = (name: string, value: string): FlagFact => ({ name, value });

/** To so many significant digits, zeros at the end included. */
function significant(value: Decimal, digits = 3): string {
  const rounded = roundToSignificant(value, digits);
  return rounded.toFixed(Math.max(0, digits - 1 - rounded.e));
}

const um = (value: Decimal): string => `${significant(value, 4)} µm`;
/** A history is known to about 2 %. */
const about = (value: Decimal): string => `${significant(value)} µm`;
const div = (value: Decimal): string => `${trueMinus(value.toDecimalPlaces(2).toFixed())} div`;
const factorText = (value: Decimal): string => `${significant(value, 4)} µm/div`;

function scaleFacts({ left, right, reticleDivisions }: FlagInput): FlagFact[] {
  return [fact("readings", `${div(left)} and ${div(right)}`), fact("scale", `0 to ${reticleDivisions} div`)];
}

/** The calibrated objective of the lowest power that passes a test; a higher one shows less of the object. */
function leastObjective(
  around: FlagSurroundings,
  passes: (train: PlannedTrain) => boolean,
): PlannedTrain | undefined {
  return plannedTrains(around)
    .filter(passes)
    .sort((a, b) => b.factor.comparedTo(a.factor))[0];
}

function objectiveFact(
  around: FlagSurroundings,
  passes: (train: PlannedTrain) => boolean,
  words: (train: PlannedTrain) => string,
): FlagFact {
  const found = leastObjective(around, passes);
  return fact(
    "objective that suits",
    found ? `${found.name}: ${words(found)}` : "none of the calibrated ones on this turret",
  );
}

function divisionFacts(input: FlagInput, around: FlagSurroundings): FlagFact[] {
  const { minimumDivisions, wanted, size } = input;
  const facts = [fact("spans", div(spanOf(input)))];
  if (minimumDivisions) facts.push(fact("method asks for", div(minimumDivisions)));
  const needed = wanted ? divisionsNeeded(wanted.readingUncertainty, wanted.percent) : null;
  if (wanted && needed) facts.push(fact(`needed for ± ${wanted.percent.toFixed()} %`, div(needed)));
  if (size === null) return facts;
  const least = [minimumDivisions, needed].filter((one) => one !== null);
  const spanAt = (train: PlannedTrain): Decimal => size.div(train.factor);
  const suits = (train: PlannedTrain): boolean =>
    least.every((one) => spanAt(train).greaterThanOrEqualTo(one)) &&
    spanAt(train).lessThanOrEqualTo(train.reticleDivisions);
  facts.push(objectiveFact(around, suits, (train) => div(spanAt(train))));
  return facts;
}

function uncertaintyFacts({ size, wanted, expandedUncertainty }: FlagInput): FlagFact[] {
  if (size === null || wanted === null || expandedUncertainty === null) return [];
  const share = expandedUncertainty.times(100).div(size.abs());
  return [
    fact("U", `${significant(expandedUncertainty, 2)} µm, ${significant(share, 2)} % of ${um(size)}`),
    fact("wanted", `${wanted.percent.toFixed()} %`),
  ];
}

function resolutionFacts({ size, numericalAperture }: FlagInput, around: FlagSurroundings): FlagFact[] {
  if (size === null || numericalAperture === null) return [];
  const limit = resolutionLimitUm(numericalAperture);
  const resolves = ({ numericalAperture: na, factor, reticleDivisions }: PlannedTrain): boolean =>
    na !== null &&
    size.greaterThanOrEqualTo(resolutionLimitUm(na).times(LEAST_RESOLUTION_LIMITS)) &&
    size.div(factor).lessThanOrEqualTo(reticleDivisions);
  return [
    fact("size", um(size)),
    fact(`limit at NA ${numericalAperture.toFixed()}`, um(limit)),
    fact(`${LEAST_RESOLUTION_LIMITS} × the limit`, um(limit.times(LEAST_RESOLUTION_LIMITS))),
    objectiveFact(around, resolves, (train) => `NA ${train.numericalAperture?.toFixed() ?? ""}`),
  ];
}

function historyFacts({ history, size }: FlagInput): FlagFact[] {
  if (history === null || size === null) return [];
  return [
    fact("size", `${um(size)}, ${significant(size.div(history.median))} × the median`),
    fact("median of the label", `${about(history.median)}, n = ${history.n}`),
    fact("middle 95 %", `${about(history.low)} to ${about(history.high)}`),
  ];
}

/** A slip of ten or twenty divisions, or of a decimal mark, with which the size would be about the usual one. */
const SLIPS: readonly { readonly name: string; readonly of: (divisions: Decimal) => Decimal }[] = [
  { name: "ten divisions less", of: (divisions) => divisions.minus(10) },
  { name: "ten divisions more", of: (divisions) => divisions.plus(10) },
  { name: "twenty divisions less", of: (divisions) => divisions.minus(20) },
  { name: "twenty divisions more", of: (divisions) => divisions.plus(20) },
  { name: "decimal mark one place further left", of: (divisions) => divisions.div(10) },
  { name: "decimal mark one place further right", of: (divisions) => divisions.times(10) },
];
/** How near a slip taken back must come to the usual size, relative. */
const NEAR_USUAL = 0.15;

/** What a value apart could be: the usual size beside it, and the slip that explains it. */
function apartFacts(input: FlagInput): FlagFact[] {
  const { size, usual } = input;
  if (size === null || usual === null || !usual.median.greaterThan(0)) return [];
  const span = spanOf(input);
  const slips = span.isZero()
    ? []
    : SLIPS.map(({ name, of }) => ({ name, there: size.times(of(span)).div(span) }))
        .map((one) => ({ ...one, away: one.there.div(usual.median).minus(1).abs().toNumber() }))
        .filter(({ away }) => away <= NEAR_USUAL)
        .sort((a, b) => a.away - b.away);
  return [
    fact("size", `${um(size)}, ${significant(size.div(usual.median))} × the median`),
    fact(`median ${usual.where}`, `${about(usual.median)}, n = ${usual.n}`),
    ...slips.slice(0, 1).map(({ name, there }) => fact(name, `would make it ${um(there)}`)),
  ];
}

/** The candidate that explains an odd size: its factor against the one used, and what the size would be. */
function hintFacts(input: FlagInput, others: readonly TurretFactor[]): FlagFact[] {
  const { size, usual, factor } = input;
  const hint = otherFactorHint(input, others);
  const there = others.find((one) => one.name === hint?.name);
  if (!hint || !there || size === null || usual === null || factor === null) return [];
  return [
    fact("ratio seen", `${um(size)} is ${significant(size.div(usual.median))} × the median`),
    fact(`median ${usual.where}`, `${about(usual.median)}, n = ${usual.n}`),
    fact(
      "factor used",
      `${factorText(factor)}, ${significant(factor.div(there.factor))} × that of ${there.name}`,
    ),
    fact(there.name, `${factorText(there.factor)} would make it ${um(hint.sizeThere)}`),
  ];
}

function dueFacts(dueOn: string | null, today: string): FlagFact[] {
  return dueOn === null ? [] : [fact("due", dueOn), fact("today", today)];
}

const FACTS: Readonly<Record<FlagKey, (input: FlagInput, around: FlagSurroundings) => readonly FlagFact[]>> =
  {
    "off-scale": scaleFacts,
    "edges-reversed": ({ left, right }) => [fact("left", div(left)), fact("right", div(right))],
    "part-unfinished": (input) => [fact("parts read together", div(spanOf(input)))],
    "few-divisions": divisionFacts,
    "uncertainty-not-met": uncertaintyFacts,
    "near-resolution": resolutionFacts,
    "outside-sheet": apartFacts,
    "outside-history": historyFacts,
    "wrong-objective": (input) => hintFacts(input, input.otherObjectives),
    "changer-forgotten": (input) => hintFacts(input, input.otherChangerSettings),
    "calibration-overdue": ({ calibrationDueOn, today }) => dueFacts(calibrationDueOn, today),
    "certificate-overdue": ({ certificateDueOn, today }) => dueFacts(certificateDueOn, today),
    "check-before-use": () => [],
    "person-differs": () => [],
  };

/**
 * The flags of one dimension, in the order of `FLAG_KEYS`, each with the numbers that raised it: of the first complete
 * reading that did. The flags are those of `flagMeasurement`; only the numbers are worked out beside them.
 * @param readings as typed; @param size as frozen or previewed, null while there is no factor
 */
export function explainFlags(
  readings: readonly RepeatReading[],
  size: SizeRecord | null,
  around: FlagSurroundings,
): FlagExplanation[] {
  const found = new Map<FlagKey, readonly FlagFact[]>();
  for (const input of flagInputs(readings, size, around)) {
    for (const flag of flagsOf(input)) {
      if (!found.has(flag)) found.set(flag, FACTS[flag](input, around));
    }
  }
  return FLAG_KEYS.flatMap((flag) => {
    const facts = found.get(flag);
    return facts ? [{ flag, facts }] : [];
  });
}
