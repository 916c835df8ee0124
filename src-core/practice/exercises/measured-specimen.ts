import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { roundToSignificant } from "../../quantity/rounding.ts";
import { memberAt } from "../../statistics/sample.ts";
import { type Even, evenChance } from "../../uncertainty/chance-generator.ts";
import { FREE_OBJECTIVES, freeOptics } from "../free-view.ts";
import { type Placing, trueFactorUm, type ViewOptics } from "../view/scene.ts";
import type { Outline, Specimen } from "../view/specimen.ts";

/** The objectives of the turret that specimens are measured with. */
export const TURRET = [FREE_OBJECTIVES[1], FREE_OBJECTIVES[2], FREE_OBJECTIVES[3]] as const;
/** No objective is quite what its engraving says: within 3 %. Common practice, no source. */
const MOST_OFF = 0.03;

export interface TurretObjective {
  /** As it is entered: `40`. */
  readonly name: "10" | "20" | "40";
  readonly optics: ViewOptics;
  /** µm of a division, as a calibration in force gives it: to four digits. */
  readonly factorUm: Decimal;
}

/** The microscope of a run, calibrated. */
export function calibratedTurret(seed: number): readonly TurretObjective[] {
  const chance = evenChance(seed);
  return TURRET.map((objective) => {
    const off = 1 + (2 * chance() - 1) * MOST_OFF;
    const optics = {
      ...freeOptics(objective),
      objective: Math.round(objective.objective * off * 1000) / 1000,
    };
    return {
      name: String(objective.objective) as TurretObjective["name"],
      optics,
      factorUm: roundToSignificant(decimal(trueFactorUm(optics).toFixed(9)), 4),
    };
  });
}

/** One object to measure. */
export interface MeasuredSpecimen {
  /** What it is, and what is read of it. */
  readonly words: string;
  readonly specimen: Specimen;
  readonly placing: Placing;
  /** From outer edge to outer edge of the wall along its longest axis, without ornament. */
  readonly lengthUm: Decimal;
  /** What it would be from other edges: the inside of the wall, the tips of the spines or of the apiculus. */
  readonly otherEdgesUm: readonly Decimal[];
}

/** Shapes and sizes are invented. */
function drawnOutline(chance: Even): {
  readonly words: string;
  readonly outline: Outline;
  readonly spiny: boolean;
} {
  const between = (low: number, high: number): number => low + (high - low) * chance();
  const kind = Math.floor(chance() * 6);
  if (kind === 0) {
    const size = between(14, 60);
    return {
      words: "smooth sphere: its diameter",
      outline: { kind: "ellipse", lengthUm: size, widthUm: size },
      spiny: false,
    };
  }
  if (kind === 3) {
    const widthUm = between(5, 9);
    return {
      words: "rod: its length",
      outline: { kind: "rod", lengthUm: between(25, 90), widthUm, bendUm: 0 },
      spiny: false,
    };
  }
  if (kind === 4) {
    const lengthUm = between(18, 60);
    const widthUm = lengthUm * between(0.5, 0.65);
    return {
      words: "spore: its length, without the apiculus",
      outline: { kind: "spore", lengthUm, widthUm, apiculusUm: between(2.5, 4.5) },
      spiny: false,
    };
  }
  if (kind === 5) {
    const lengthUm = between(30, 80);
    return {
      words: "diatom valve: its length",
      outline: { kind: "valve", lengthUm, widthUm: lengthUm * between(0.2, 0.3) },
      spiny: false,
    };
  }
  const lengthUm = between(18, 75);
  const outline: Outline = { kind: "ellipse", lengthUm, widthUm: lengthUm * between(0.5, 0.8) };
  return kind === 1
    ? { words: "ellipsoid: its length", outline, spiny: false }
    : { words: "spiny ellipsoid: its length, without the spines", outline, spiny: true };
}

/** The object of a task. */
export function measuredSpecimen(seed: number, ordinal: number): MeasuredSpecimen {
  const chance = evenChance(seed + ordinal * 3571);
  const { words, outline, spiny } = drawnOutline(chance);
  const length = outline.kind === "debris" ? outline.sizeUm : outline.lengthUm;
  const wallUm = outline.kind === "rod" ? 1 : 1.2 + 0.03 * length * chance();
  const ornamentUm = spiny ? 2 + 2 * chance() : 0;
  const within = (most: number): number => (2 * chance() - 1) * most;
  const lengthUm = decimal(length.toFixed(3));
  const specimen: Specimen = {
    outline: outline.kind === "debris" ? outline : { ...outline, lengthUm: lengthUm.toNumber() },
    xUm: 0,
    yUm: 0,
    turnedDeg: Math.round(within(14) * 10) / 10,
    wallUm,
    wallDark: 0.75,
    bodyDark: 0.12 + 0.1 * chance(),
    ornamentUm,
  };
  return {
    words,
    specimen,
    placing: {
      xUm: within(25),
      yUm: within(12),
      turnedDeg: 0,
      outOfFocusUm: within(2.5),
      tilt: 0,
    },
    lengthUm,
    otherEdgesUm: [
      lengthUm.minus(decimal((2 * wallUm).toFixed(3))),
      ...(spiny ? [lengthUm.plus(decimal((2 * ornamentUm).toFixed(3)))] : []),
      ...(outline.kind === "spore" ? [lengthUm.plus(decimal(outline.apiculusUm.toFixed(3)))] : []),
    ],
  };
}

/** The objective of a name. */
export function objectiveOf(turret: readonly TurretObjective[], name: string): TurretObjective {
  return memberAt(
    turret,
    turret.findIndex((one) => one.name === name),
  );
}
