import { meanLengthUncertainty } from "#core/measurement/mean-length.ts";
import { type Decimal, decimal, ONE } from "#core/quantity/decimal.ts";
import { coverageFactor } from "#core/uncertainty/coverage.ts";
import type { CoverageRule } from "#core/vocabulary/calibration.ts";

/** The sizes of one label and one dimension that count: rows not struck, with a size. µm. */
export interface CountedSizes {
  readonly sizes: number[];
  /** |divisions|·(1 + κ)·u(f) of each: the part of its uncertainty that comes from the factor. */
  readonly factorParts: number[];
}

/** What the mean shares with every specimen, so that more specimens do not make it smaller. */
export interface SharedDoubt {
  /** Uncertainty of the edges where all objects share it, µm. */
  readonly edges: number;
  /** 1/ν of the edges and the largest 1/ν of the factors used; 0: infinite. */
  readonly edgesInverseNu: number;
  readonly factorInverseNu: number;
  readonly coverage: CoverageRule;
  readonly percentiles: PercentileShares;
}

/** Which percentiles are reported, as shares 0…1, and by which definition of Hyndman and Fan 1996. */
export interface PercentileShares {
  readonly type: 6 | 7;
  readonly lower: number;
  readonly upper: number;
}

export interface LabelStatistics {
  readonly n: number;
  /** null where n is too small for it. */
  readonly mean: number | null;
  readonly s: number | null;
  /** s/|mean| in per cent. */
  readonly variation: number | null;
  readonly min: number | null;
  readonly lower: number | null;
  readonly median: number | null;
  readonly upper: number | null;
  readonly max: number | null;
  /** mean ± t·s/√n at 95 %: scatter of the specimens only. */
  readonly from: number | null;
  readonly to: number | null;
  readonly factorPart: number | null;
  readonly u: number | null;
  readonly nu: number | null;
  readonly k: number | null;
  readonly U: number | null;
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

const NOTHING = {
  mean: null,
  min: null,
  lower: null,
  median: null,
  upper: null,
  max: null,
  factorPart: null,
} as const;
const NO_SCATTER = {
  s: null,
  variation: null,
  from: null,
  to: null,
  u: null,
  nu: null,
  k: null,
  U: null,
} as const;

/** Types 6 and 7 of Hyndman and Fan 1996, as `percentileByRank` of the core has them; floats, because nothing printed
 * depends on the last digits. A position outside the sample gives its least or greatest value. */
function percentileOf(rising: readonly number[], p: number, type: 6 | 7): number {
  const n = rising.length;
  const position = Math.min(n, Math.max(1, type === 7 ? p * (n - 1) + 1 : p * (n + 1)));
  const below = Math.floor(position);
  const lower = rising[below - 1] ?? Number.NaN;
  return lower + (position - below) * ((rising[below] ?? lower) - lower);
}

/**
 * n, mean, s (n − 1), percentiles and the uncertainty of the mean as a length:
 * u² = s²/n + (mean factor part)² + u(edges)² — the factor and the edges are the same for all specimens of the sheet
 * and do not shrink with n (JCGM 100:2008 5.2.2 with r = 1, F.1.2.3). ν by Welch–Satterthwaite (G.4.1), with the
 * smallest ν of the factors used. Floats: printed digits are far from the last ones carried.
 */
export function labelStatistics(counted: CountedSizes, shared: SharedDoubt): LabelStatistics {
  const n = counted.sizes.length;
  if (n === 0) return { n, ...NOTHING, ...NO_SCATTER };
  const mean = meanOf(counted.sizes);
  const factorPart = meanOf(counted.factorParts);
  const rising = Float64Array.from(counted.sizes).sort() as unknown as readonly number[];
  const { type, lower, upper } = shared.percentiles;
  const order = {
    min: rising[0] ?? mean,
    lower: percentileOf(rising, lower, type),
    median: percentileOf(rising, 0.5, type),
    upper: percentileOf(rising, upper, type),
    max: rising[n - 1] ?? mean,
  };
  if (n === 1) return { n, mean, ...order, factorPart, ...NO_SCATTER };
  const s = Math.sqrt(counted.sizes.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
  const half = (studentT95(n - 1) * s) / Math.sqrt(n);
  return {
    n,
    mean,
    ...order,
    s,
    variation: mean === 0 ? null : (100 * s) / Math.abs(mean),
    from: mean - half,
    to: mean + half,
    factorPart,
    ...uncertaintyOfMean(n, s, factorPart, shared),
  };
}

function uncertaintyOfMean(
  n: number,
  s: number,
  factorPart: number,
  shared: SharedDoubt,
): Pick<LabelStatistics, "u" | "nu" | "k" | "U"> {
  const degrees = (inverseNu: number): Decimal | null => (inverseNu === 0 ? null : ONE.div(inverseNu));
  const { standard, degreesOfFreedom, coverageFactor, expanded } = meanLengthUncertainty({
    deviation: decimal(s),
    count: n,
    factorUncertainty: decimal(factorPart),
    factorDegreesOfFreedom: degrees(shared.factorInverseNu),
    edgeUncertainty: decimal(shared.edges),
    edgeDegreesOfFreedom: degrees(shared.edgesInverseNu),
    coverage: shared.coverage,
  });
  return {
    u: standard.toNumber(),
    nu: degreesOfFreedom?.toNumber() ?? null,
    k: coverageFactor.toNumber(),
    U: expanded.toNumber(),
  };
}

/** Two-sided 95 % point of Student's t. */
function studentT95(degreesOfFreedom: number): number {
  return coverageFactor("t95", decimal(degreesOfFreedom)).toNumber();
}
