import type { Decimal } from "../quantity/decimal.ts";
import { requireFinite, requirePositive } from "../quantity/input-error.ts";
import { memberAt, requireSample, requireWhole } from "../statistics/sample.ts";
import { RUN_RULES, type RunRule } from "../vocabulary/trends.ts";

/** What a rule means for a factor's history: short series bear T1–T3; T5 and T6 are hints; the rest stay off. */
export const RULE_ROLES: { readonly [R in RunRule]: "signal" | "hint" | "off" } = {
  T1: "signal",
  T2: "signal",
  T3: "signal",
  T4: "off",
  T5: "hint",
  T6: "hint",
  T7: "off",
  T8: "off",
};

export interface RunSignal {
  readonly rule: RunRule;
  /** Place, from 0, of the point that completes the pattern. */
  readonly index: number;
  /** Places of the points that make the pattern, in order. */
  readonly points: readonly number[];
}

/** Deviation of a point from the centre line, with the comparisons the rules need; all of them strict. */
interface ZonePoint {
  readonly deviation: Decimal;
  /** 1 above the centre line, −1 below, 0 on it. */
  readonly side: -1 | 0 | 1;
  /** Largest of 0, 1, 2, 3 whose multiple of σ the distance exceeds. */
  readonly beyond: 0 | 1 | 2 | 3;
  /** True when the distance is smaller than 1σ; a point at exactly 1σ is neither within nor beyond. */
  readonly within: boolean;
}

function zonePoint(value: Decimal, centre: Decimal, sigma: Decimal): ZonePoint {
  const deviation = value.minus(centre);
  const distance = deviation.abs();
  const exceeds = (times: number) => distance.greaterThan(sigma.times(times));
  const beyond = exceeds(3) ? 3 : exceeds(2) ? 2 : exceeds(1) ? 1 : 0;
  const side = deviation.isZero() ? 0 : deviation.isPositive() ? 1 : -1;
  return { deviation, side, beyond, within: distance.lessThan(sigma) };
}

type Test = (window: readonly ZonePoint[]) => readonly number[] | null;

interface RuleShape {
  /** Points looked at, ending with the completing one. */
  readonly length: number;
  /** Places within the window of the points that make the pattern, or null. */
  readonly test: Test;
}

const everyPlace = (window: readonly ZonePoint[]) => window.map((_, place) => place);

const all =
  (holds: (point: ZonePoint) => boolean): Test =>
  (window) =>
    window.every(holds) ? everyPlace(window) : null;

const sameSide: Test = (window) => {
  const side = memberAt(window, 0).side;
  return side !== 0 && window.every((point) => point.side === side) ? everyPlace(window) : null;
};

/** At least `least` points beyond `zone` σ on the side of the completing point, which must itself be in that zone. */
const inZone =
  (zone: 1 | 2, least: number): Test =>
  (window) => {
    const last = memberAt(window, window.length - 1);
    if (last.beyond < zone) return null;
    const places = everyPlace(window).filter((place) => {
      const point = memberAt(window, place);
      return point.side === last.side && point.beyond >= zone;
    });
    return places.length >= least ? places : null;
  };

const steps = (window: readonly ZonePoint[]) =>
  window.slice(1).map((point, at) => point.deviation.cmp(memberAt(window, at).deviation));

const monotonic: Test = (window) => {
  const directions = steps(window);
  const first = memberAt(directions, 0);
  return first !== 0 && directions.every((direction) => direction === first) ? everyPlace(window) : null;
};

const alternating: Test = (window) => {
  const directions = steps(window);
  const first = memberAt(directions, 0);
  const holds = directions.every((direction, at) => direction === (at % 2 === 0 ? first : -first));
  return first !== 0 && holds ? everyPlace(window) : null;
};

function shapes(sideRun: number): { readonly [R in RunRule]: RuleShape } {
  return {
    T1: { length: 1, test: all((point) => point.beyond === 3) },
    T2: { length: sideRun, test: sameSide },
    T3: { length: 6, test: monotonic },
    T4: { length: 14, test: alternating },
    T5: { length: 3, test: inZone(2, 2) },
    T6: { length: 5, test: inZone(1, 4) },
    T7: { length: 15, test: all((point) => point.within) },
    T8: { length: 8, test: all((point) => point.beyond >= 1) },
  };
}

export interface RunRuleInput {
  /** In order of time. */
  readonly values: readonly Decimal[];
  readonly centre: Decimal;
  readonly sigma: Decimal;
  readonly rules: readonly RunRule[];
  /** Points in a row on one side for T2: 9 (Nelson), or 8 as in the Western Electric handbook (1956). */
  readonly sideRun?: number;
}

/**
 * Every point that completes a pattern of the given rules, in order of time. All comparisons are strict; a point on the
 * centre line ends a run of T2; for T5 and T6 the completing point itself lies in the zone, and a shorter beginning of
 * the series may do (two points beyond 2σ need no third).
 * @throws InputError when a value is not finite, σ is not positive, or `sideRun` is below 2
 */
export function runSignals({ values, centre, sigma, rules, sideRun = 9 }: RunRuleInput): RunSignal[] {
  requireSample("values", values, 0);
  requireFinite("centre", centre);
  requirePositive("sigma", sigma);
  requireWhole("sideRun", sideRun, 2);
  const points = values.map((value) => zonePoint(value, centre, sigma));
  const shape = shapes(sideRun);
  const chosen = RUN_RULES.filter((rule) => rules.includes(rule));
  return points.flatMap((_, index) =>
    chosen.flatMap((rule): RunSignal[] => {
      const { length, test } = shape[rule];
      const partial = rule === "T5" || rule === "T6";
      if (index + 1 < length && !partial) return [];
      const start = Math.max(0, index + 1 - length);
      const places = test(points.slice(start, index + 1));
      return places === null ? [] : [{ rule, index, points: places.map((place) => start + place) }];
    }),
  );
}
