import { describe, expect, it } from "vitest";
import { calibrate } from "#core/calibration/calibrate.ts";
import { certifiedInterval } from "#core/calibration/certified-interval.ts";
import type { CertifiedScale } from "#core/calibration/certified-scale.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { NOTHING_DOUBTED } from "#core/selftest/plain-setups.ts";

const d = decimal;

/** Lines every 500 µm without errors; U by `stated`, all numbers invented. */
function scale(
  stated: Partial<CertifiedScale>,
  byLine: readonly (string | undefined)[] = [],
): CertifiedScale {
  return {
    lines: ["0", "500", "1000"].map((nominal, i) => ({
      nominal: d(nominal),
      error: d(0),
      expandedUncertainty: byLine[i] === undefined ? undefined : d(byLine[i]),
    })),
    expandedUncertainty: d("0.2"),
    coverageFactor: d(2),
    ...stated,
  };
}

const u = (of: CertifiedScale, from: string, to: string): string =>
  certifiedInterval(of, d(from), d(to)).certified.toFixed();

describe("U of a certified interval", () => {
  it("is the same for every length unless the certificate says otherwise", () => {
    expect([u(scale({}), "0", "500"), u(scale({}), "0", "1000")]).toEqual(["0.1", "0.1"]);
  });

  it("grows with the length where it is stated as a + b·L", () => {
    const growing = scale({ uncertaintyPerUm: d("0.0004") });
    expect([u(growing, "0", "500"), u(growing, "0", "1000")]).toEqual(["0.2", "0.3"]);
  });

  it("is that of its two lines where each has its own; the line they are counted from has none", () => {
    const byLine = scale({}, [undefined, "0.3", "0.4"]);
    expect(u(byLine, "0", "500")).toBe("0.15");
    // √(0.3² + 0.4²)/2
    expect(u(byLine, "500", "1000")).toBe("0.25");
    // Between 500 and 1000 the larger of both neighbours.
    expect(u(byLine, "0", "700")).toBe("0.2");
  });
});

describe("degrees of freedom of the certificate", () => {
  const of = (degreesOfFreedom?: string) =>
    calibrate({
      settings: ["99.0", "99.1", "98.9", "99.0", "99.0"].map((right) => ({
        reticleLeft: d(0),
        reticleRight: d(right),
        lineLeft: d(0),
        lineRight: d(1000),
      })),
      scale: scale(degreesOfFreedom ? { degreesOfFreedom: d(degreesOfFreedom) } : {}),
      conditions: NOTHING_DOUBTED,
      estimator: "origin-regression",
      coverage: "t95",
    });

  it("stand in its line of the budget and in ν of the factor, JCGM 100:2008 G.4.1", () => {
    expect(of().budget[0]?.degreesOfFreedom).toBeNull();
    const certificate = of("7").budget[0];
    expect(certificate?.degreesOfFreedom?.toString()).toBe("7");
    const result = of("7");
    const parts = result.budget.map((line) => [line.contribution, line.degreesOfFreedom] as const);
    const weighed = parts.reduce((sum, [c, nu]) => (nu ? sum + c.toNumber() ** 4 / nu.toNumber() : sum), 0);
    const expected = result.uncertainty.standard.toNumber() ** 4 / weighed;
    expect(result.uncertainty.degreesOfFreedom?.toNumber()).toBeCloseTo(expected, 9);
  });
});
