import type { CoverageRule } from "#core/calibration/calibration.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { coverageFactor } from "#core/uncertainty/coverage.ts";

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
}

export interface LabelStatistics {
  readonly n: number;
  /** null where n is too small for it. */
  readonly mean: number | null;
  readonly s: number | null;
  readonly min: number | null;
  readonly max: number | null;
  readonly factorPart: number | null;
  readonly u: number | null;
  readonly nu: number | null;
  readonly k: number | null;
  readonly U: number | null;
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

const NOTHING = { mean: null, s: null, min: null, max: null, factorPart: null } as const;
const NO_DOUBT = { u: null, nu: null, k: null, U: null } as const;

/**
 * n, mean, s (n − 1), least and greatest, and the uncertainty of the mean as a length:
 * u² = s²/n + (mean factor part)² + u(edges)² — the factor and the edges are the same for all specimens of the sheet
 * and do not shrink with n (JCGM 100:2008 5.2.2 with r = 1, F.1.2.3). ν by Welch–Satterthwaite (G.4.1), with the
 * smallest ν of the factors used. Floats: printed digits are far from the last ones carried.
 */
export function labelStatistics(counted: CountedSizes, shared: SharedDoubt): LabelStatistics {
  const n = counted.sizes.length;
  if (n === 0) return { n, ...NOTHING, ...NO_DOUBT };
  const mean = meanOf(counted.sizes);
  const factorPart = meanOf(counted.factorParts);
  const min = counted.sizes.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const max = counted.sizes.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  if (n === 1) return { n, mean, s: null, min, max, factorPart, ...NO_DOUBT };
  const s = Math.sqrt(counted.sizes.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
  const u = Math.sqrt(s ** 2 / n + factorPart ** 2 + shared.edges ** 2);
  const weight =
    (s ** 2 / n) ** 2 / (n - 1) +
    factorPart ** 4 * shared.factorInverseNu +
    shared.edges ** 4 * shared.edgesInverseNu;
  const nu = weight === 0 ? null : u ** 4 / weight;
  // The formula in the worksheet guards its whole number against the last binary digit in the same way.
  const k = coverageFactor(shared.coverage, nu === null ? null : decimal(nu + 1e-9)).toNumber();
  return { n, mean, s, min, max, factorPart, u, nu, k, U: k * u };
}
