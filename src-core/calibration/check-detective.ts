import { type Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { roundToSignificant } from "../quantity/rounding.ts";

/** A factor that the check may have read in place of the one it was meant for. */
export interface OtherFactor {
  /** What would have been in the path: `40× at position 3`, `changer at 1.25×`. */
  readonly name: string;
  /** µm/div: measured where it is known, else from the engravings. */
  readonly factor: Decimal;
  /** u of a factor in force, µm/div; null: from the engravings. */
  readonly standardUncertainty: Decimal | null;
  readonly part: "objective" | "changer" | "eyepiece";
}

/** One setting of the check: the certified distance, µm, and the divisions read. */
export interface CheckSpan {
  readonly distance: Decimal;
  readonly divisions: Decimal;
}

export interface CheckSuspicion {
  readonly factor: Decimal;
  readonly standardUncertainty: Decimal;
  /** The factor in force, µm/div. */
  readonly inForce: Decimal;
  readonly others: readonly OtherFactor[];
  readonly spans: readonly CheckSpan[];
  /** Distance of neighbouring lines of the micrometer, µm. */
  readonly linePitch: Decimal;
}

/** Why a check came out as it did, most likely. */
export interface LikelyCause {
  readonly cause: string;
  readonly whatToDo: string;
}

/** A factor from engravings explains within 4 %: objectives are marked to about 5 %. Common practice, no source. */
const ENGRAVED = decimal("0.04");
/** A slip of the reading must come out within this of a whole one, div: a fraction of a division is no slip. */
const SLIP_WITHIN = decimal("0.35");
const SLIPS = [10, 20, 50, 100] as const;

interface Candidate extends LikelyCause {
  /** Share of what would still fit, 0 to 1: the smaller the better. */
  readonly miss: number;
}

const shown = (factor: Decimal): string => `${roundToSignificant(factor, 4).toFixed()} µm/div`;

const LOOK: Readonly<Record<OtherFactor["part"], string>> = {
  objective: "Look which objective is in the path.",
  changer: "Look at the magnification changer.",
  eyepiece: "Look which eyepiece is in the tube.",
};

function otherPart(input: CheckSuspicion): Candidate[] {
  return input.others.flatMap((other) => {
    const { name, part, standardUncertainty: u } = other;
    const factor = requirePositive("others.factor", other.factor);
    const within = u
      ? u.pow(2).plus(input.standardUncertainty.pow(2)).sqrt().times(2)
      : factor.times(ENGRAVED);
    const away = input.factor.minus(factor).abs();
    // Near the factor in force an engraving cannot tell the two apart.
    const apart = u !== null || factor.div(input.inForce).minus(ONE).abs().greaterThan(ENGRAVED.times(2));
    if (!apart || away.greaterThan(within)) return [];
    return [
      {
        cause: `The ratio is that of ${part === "objective" ? `objective ${name}` : name} (${shown(factor)}${u ? "" : " by its engraving"})`,
        whatToDo: `${LOOK[part]} If it was this one, withdraw the check with that reason and check again.`,
        miss: away.div(within).toNumber(),
      },
    ];
  });
}

/** Certified spacing mistaken: what the check would give, over the factor in force. */
const SPACINGS: readonly { readonly ratio: string; readonly cause: string }[] = [
  { ratio: "0.1", cause: "The micrometer's lines are ten times as far apart as was taken" },
  { ratio: "10", cause: "The micrometer's lines are ten times closer than was taken" },
  { ratio: "0.3937", cause: "The micrometer is ruled in thousandths of an inch (25.4 µm), not in 10 µm" },
  { ratio: "2.54", cause: "The micrometer is ruled in 10 µm, not in thousandths of an inch (25.4 µm)" },
];

function otherSpacing({ factor, inForce }: CheckSuspicion): Candidate[] {
  return SPACINGS.flatMap(({ ratio, cause }) => {
    const miss = factor.div(inForce).div(decimal(ratio)).minus(ONE).abs().div(ENGRAVED.div(2));
    return miss.greaterThan(ONE)
      ? []
      : [
          {
            cause,
            whatToDo:
              "Read the engraving of the stage micrometer and choose the one that was on the stage; withdraw this check.",
            miss: miss.toNumber(),
          },
        ];
  });
}

/** The one slip, in units of `size`, that every setting shows; null when they do not agree on one. */
function commonSlip(slips: readonly Decimal[], size: Decimal, within: Decimal): Decimal | null {
  const [first] = slips;
  if (!first) return null;
  const whole = first.div(size).toDecimalPlaces(0);
  const alike = slips.every((slip) => slip.minus(whole.times(size)).abs().lessThanOrEqualTo(within));
  return whole.isZero() || !alike ? null : whole;
}

function slipOfReading({ spans, inForce }: CheckSuspicion): Candidate[] {
  const slips = spans.map(({ distance, divisions }) => divisions.minus(distance.div(inForce)));
  const found = SLIPS.find((tens) => {
    const whole = commonSlip(slips, decimal(tens), SLIP_WITHIN);
    return whole?.abs().equals(ONE);
  });
  if (found === undefined) return [];
  const by = `${found} divisions ${slips[0]?.greaterThan(0) ? "more" : "fewer"}`;
  return [
    {
      cause: `The reticle was read ${by} than the factor in force gives: a slip of the reading`,
      whatToDo: "Read both ends once more; if it was a slip, withdraw this check and record a new one.",
      miss: 0.5,
    },
  ];
}

/** One or two lines miscounted, where a line is more than a division wide and so no drift. */
function slipOfLines({ spans, inForce, linePitch }: CheckSuspicion): Candidate[] {
  if (linePitch.div(inForce).lessThan(2)) return [];
  const slips = spans.map(({ distance, divisions }) => distance.minus(divisions.times(inForce)));
  const whole = commonSlip(slips, linePitch, inForce.times(SLIP_WITHIN));
  if (!whole || whole.abs().greaterThan(2)) return [];
  const lines = whole.abs().equals(ONE) ? "one line" : "two lines";
  return [
    {
      cause: `${lines[0]?.toUpperCase()}${lines.slice(1)} too ${whole.greaterThan(0) ? "many" : "few"} counted on the micrometer`,
      whatToDo:
        "Count the lines once more, the first one as 0; if it was a slip, withdraw this check and record a new one.",
      miss: 0.5,
    },
  ];
}

/**
 * Names what most likely made a quick check come out beyond its limit: another objective, changer setting or eyepiece
 * (against its own factor in force where there is one, within 2·√(u² + u²)), another spacing of the lines, or a slip of
 * the reading. Best fit first, at most three; empty where nothing known fits, as for a drift. Common practice, no source.
 * @throws InputError for a factor that is not greater than zero
 */
export function checkSuspects(input: CheckSuspicion): LikelyCause[] {
  requirePositive("factor", input.factor);
  requirePositive("inForce", input.inForce);
  return [...otherPart(input), ...otherSpacing(input), ...slipOfReading(input), ...slipOfLines(input)]
    .sort((a, b) => a.miss - b.miss)
    .slice(0, 3)
    .map(({ cause, whatToDo }) => ({ cause, whatToDo }));
}
