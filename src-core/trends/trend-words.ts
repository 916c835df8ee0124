import type { ChartSignal } from "./baseline-chart.ts";
import type { DriftCaveat } from "./drift.ts";
import type { FactorLimits } from "./factor-limits.ts";

const RULE_WORDS: Readonly<Record<ChartSignal["rule"], string>> = {
  T1: "one value beyond 3σ",
  T2: "nine values in a row on one side of the mean",
  T3: "six values in a row rising or falling",
  T4: "fourteen values in turn up and down",
  T5: "two of three values beyond 2σ on one side",
  T6: "four of five values beyond 1σ on one side",
  T7: "fifteen values in a row within 1σ",
  T8: "eight values in a row beyond 1σ",
  limits: "beyond the limits of the values before it",
  jump: "further from the value before than the range chart allows",
};

/** A rule as it is named where it fires. */
export function signalWords({ rule }: Pick<ChartSignal, "rule">): string {
  return rule === "limits" || rule === "jump" ? RULE_WORDS[rule] : `${rule}: ${RULE_WORDS[rule]}`;
}

/** Which rule gave the limits of a baseline, and on how many points they rest. */
export function limitWords({ kind, n, action }: FactorLimits, leaning: boolean): string {
  const about = leaning ? ", about the drift line" : "";
  if (kind === "tolerance") return "1 calibration: no limits yet, only the tolerance";
  if (kind === "pair") return "2 calibrations: compared by E_n, no limits yet";
  if (action === null) return `${n} equal values: no scatter to make limits of`;
  if (kind === "prediction") {
    return `${n} calibrations: prediction limits for one further value, warning 95 %, action 99 %${about}`;
  }
  const limitsFrom = kind === "frozen" ? "frozen at the first" : "preliminary, from";
  return `${limitsFrom} ${n} calibrations: individuals chart, warning ± 2σ, action x̄ ± 2.66 mean moving ranges${about}`;
}

const CAVEAT_WORDS: Readonly<Record<DriftCaveat, string>> = {
  "too-few-points": "fewer than five calibrations",
  "too-short-a-span": "less than three calibration intervals",
  "not-significant": "the slope may be chance (p at least 0.05)",
};

export function caveatWords(caveat: DriftCaveat): string {
  return CAVEAT_WORDS[caveat];
}
