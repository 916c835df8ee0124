import { type Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { requirePositive } from "../quantity/input-error.ts";
import { DETECTIVE_TABLE, type DetectiveEntry } from "./detective-table.ts";

/** Inside ±5 % of nominal a factor is taken as normal; engraved magnifications are good to about that. */
const NORMAL = decimal("0.05");
/** A ratio explains a factor within 4 %. */
const EXPLAINS = decimal("0.04");

/** Factors outside this share of nominal are refused: no train is so far from its engraving. */
export const PLAUSIBLE_RATIO = { least: decimal("0.4"), most: decimal("2.5") } as const;

/** Another objective on the same turret. */
export interface TurretObjective {
  readonly name: string;
  readonly magnification: Decimal;
}

export interface Suspect {
  readonly cause: string;
  readonly whatToDo: string;
  readonly origin: DetectiveEntry["origin"];
  /** The ratio this cause would give, and how far the measured one is from it, relative. */
  readonly ratio: Decimal;
  readonly distance: Decimal;
}

export interface DetectiveReport {
  /** measured / nominal. */
  readonly ratio: Decimal;
  readonly normal: boolean;
  readonly plausible: boolean;
  /** Likely causes, the nearest ratio first; empty when normal or when nothing known fits. */
  readonly suspects: readonly Suspect[];
}

/** The table, and before it what mistaking one objective of the turret for another would give. */
function entriesFor(
  magnification: Decimal | null,
  turret: readonly TurretObjective[],
): { readonly ratio: Decimal; readonly entry: DetectiveEntry }[] {
  const known = DETECTIVE_TABLE.map((entry) => ({ ratio: decimal(entry.ratio), entry }));
  if (magnification === null) return known;
  const others = turret
    .filter((other) => !other.magnification.equals(magnification))
    .map((other, i) => ({
      ratio: magnification.div(requirePositive(`turret.${i}.magnification`, other.magnification)),
      entry: {
        ratio: "",
        cause: `The ${other.name} of this turret was used`,
        whatToDo: `Look at the objective under the stage; if it is the ${other.name}, choose its train.`,
        origin: "computed from the engraved values",
      } satisfies DetectiveEntry,
    }));
  return [...others, ...known];
}

/**
 * Names the likely cause of a factor that differs from the nominal one. The ratios are data (`DETECTIVE_TABLE`); with
 * the turret known, mistaking one of its objectives for another is tried first.
 * @param measured, nominal µm/div; @param magnification the objective's own, null when not known
 * @throws InputError `measured`, `nominal` or a magnification that is not greater than zero
 */
export function detect(
  measured: Decimal,
  nominal: Decimal,
  magnification: Decimal | null = null,
  turret: readonly TurretObjective[] = [],
): DetectiveReport {
  const ratio = requirePositive("measured", measured).div(requirePositive("nominal", nominal));
  const normal = ratio.minus(ONE).abs().lessThanOrEqualTo(NORMAL);
  const plausible =
    ratio.greaterThanOrEqualTo(PLAUSIBLE_RATIO.least) && ratio.lessThanOrEqualTo(PLAUSIBLE_RATIO.most);
  if (normal) return { ratio, normal, plausible, suspects: [] };
  const suspects = entriesFor(magnification, turret)
    .map(
      ({ ratio: expected, entry }): Suspect => ({
        cause: entry.cause,
        whatToDo: entry.whatToDo,
        origin: entry.origin,
        ratio: expected,
        distance: ratio.div(expected).minus(1).abs(),
      }),
    )
    .filter((suspect) => suspect.distance.lessThanOrEqualTo(EXPLAINS))
    .sort((a, b) => a.distance.comparedTo(b.distance));
  return { ratio, normal, plausible, suspects };
}
