import { linearityOf } from "#core/calibration/linearity.ts";
import { normalChance } from "../support/normal-chance.ts";
import { type Distortion, EVEN, type Place, simulateCalibration } from "../support/simulated-calibration.ts";
import { printTable } from "./print-table.ts";

const TRIALS = Number(process.env.TRIALS ?? 1000);
const COUNTS = [3, 4, 6, 10, 30];
const SCATTERS = [0.05, 0.2];

interface Plan {
  readonly name: string;
  readonly place: (i: number, n: number) => Place;
}

/** Where the settings of a calibration lie on the reticle. */
export const PLANS: readonly Plan[] = [
  { name: "same lines, left line on 0", place: () => ({ from: 0, span: 96, laid: true }) },
  { name: "same lines, both ends read", place: () => ({ from: 1, span: 96 }) },
  {
    name: "same lines, another start",
    place: (i, n) => ({ from: (18 * i) / Math.max(1, n - 1), span: 80 }),
  },
  {
    name: "whole, left, right half",
    place: (i) =>
      [
        { from: 0, span: 98 },
        { from: 0, span: 49 },
        { from: 50, span: 49 },
      ][i % 3] as Place,
  },
  {
    name: "both quarters, middle half",
    place: (i) =>
      [
        { from: 0, span: 24 },
        { from: 25, span: 48 },
        { from: 75, span: 24 },
      ][i % 3] as Place,
  },
  { name: "growing spans", place: (i, n) => ({ from: 0, span: Math.round((98 * (i + 1)) / n) }) },
];

export interface Alarms {
  readonly named: number;
  readonly trials: number;
  /** The size from which nine of ten calibrations can show a slope, a bow, relative; infinite: never. */
  readonly showsSlope: number;
  readonly showsBow: number;
}

/** What nine of ten values keep below. */
function nineTenths(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(0.9 * values.length)] ?? Number.POSITIVE_INFINITY;
}

/** How many of `trials` simulated calibrations raise a finding about the scale. */
export function alarmsOf(plan: Plan, n: number, sd: number, distortion: Distortion, trials: number): Alarms {
  const chance = normalChance(n);
  const places = Array.from({ length: n }, (_, i) => plan.place(i, n));
  const [slopes, bows]: [number[], number[]] = [[], []];
  let named = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const { settings, result } = simulateCalibration(places, sd, chance, { distortion });
    const { findings, field } = linearityOf(settings, result);
    if (findings.length > 0) named += 1;
    slopes.push(field?.slope?.shows?.toNumber() ?? Number.POSITIVE_INFINITY);
    bows.push(field?.bow?.shows?.toNumber() ?? Number.POSITIVE_INFINITY);
  }
  return { named, trials, showsSlope: nineTenths(slopes), showsBow: nineTenths(bows) };
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
const size = (shown: number): string => (shown < 1 ? `${(100 * shown).toFixed(2)} %` : "–");

/** Findings about the scale where there is nothing to find, and where there is: 1 % from half to half, or end to middle. */
export function benchFalseAlarms(): void {
  console.log(
    `${TRIALS.toLocaleString("en-GB")} simulated calibrations each; how many find something about the scale, and the size of what is found nine times in ten`,
  );
  const rows = PLANS.flatMap((plan) =>
    COUNTS.flatMap((n) =>
      SCATTERS.map((sd) => {
        const of = (distortion: Distortion): Alarms => alarmsOf(plan, n, sd, distortion, TRIALS);
        const [even, sloped, bowed] = [of(EVEN), of({ slope: 0.01, bow: 0 }), of({ slope: 0, bow: 0.01 })];
        return [
          plan.name,
          String(n),
          String(sd),
          percent(even.named / TRIALS),
          size(even.showsSlope),
          percent(sloped.named / TRIALS),
          size(even.showsBow),
          percent(bowed.named / TRIALS),
        ];
      }),
    ),
  );
  printTable(
    [
      "plan",
      "settings",
      "sd, div",
      "even scale",
      "halves: shown from",
      "1 % found",
      "bow: shown from",
      "1 % found",
    ],
    rows,
  );
}
