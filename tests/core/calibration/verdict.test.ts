import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { agreementOf, intermediateCheck } from "#core/calibration/agreement.ts";
import { LIMIT_KEYS, limitsWith, PROPOSED_LIMITS } from "#core/calibration/limits.ts";
import { linearityOf } from "#core/calibration/linearity.ts";
import { type EarlierFactor, type VerdictInput, verdictOf } from "#core/calibration/verdict.ts";
import { decimal, ZERO } from "#core/quantity/decimal.ts";
import { plainCalibration } from "#core/selftest/plain-setups.ts";

const d = decimal;

const good = () =>
  plainCalibration({
    lengths: ["1000", "1000", "1000"],
    divisions: ["96.4", "96.5", "96.3"],
    expandedUncertainty: "0.3",
    conditions: { smallestFraction: d("0.1") },
  });

const EARLIER: EarlierFactor = {
  factor: d("10.37"),
  standardUncertainty: d("0.01"),
  commonUncertainty: d("0.002"),
  sameMicrometer: true,
};

function verdict(own: Partial<VerdictInput> = {}) {
  const result = own.result ?? good();
  return verdictOf({
    result,
    linearity: null,
    nominal: d(10),
    earlier: EARLIER,
    limits: limitsWith(),
    ...own,
  });
}

const stateOf = (of: ReturnType<typeof verdict>, key: string) =>
  of.findings.find((one) => one.key === key)?.state;

describe("the verdict on a calibration", () => {
  it("accepts one that keeps every limit, and names each", () => {
    const accepted = verdict();
    expect(accepted.outcome).toBe("accept");
    expect(accepted.findings.map((one) => one.key)).toEqual([...LIMIT_KEYS]);
    expect(accepted.findings.find((one) => one.key === "span")?.words).toBe(
      "96.5 div; limit at least 50 div.",
    );
    expect(stateOf(accepted, "halves")).toBe("not tested");
  });

  it.each<[string, string, Partial<VerdictInput>]>([
    ["a short span", "span", { result: plainCalibration({ lengths: ["400"], divisions: ["38.6"] }) }],
    [
      "much scatter",
      "relative-deviation",
      { result: plainCalibration({ lengths: ["1000", "1000"], divisions: ["95.4", "97.4"] }) },
    ],
    [
      "a wide range",
      "range",
      { result: plainCalibration({ lengths: ["1000", "1000"], divisions: ["95.4", "97.4"] }) },
    ],
    ["another magnification", "nominal-deviation", { nominal: d(8) }],
    ["a change of more than 1 %", "change-investigate", { earlier: { ...EARLIER, factor: d("10.24") } }],
    [
      "a change its uncertainty does not cover",
      "agreement",
      { earlier: { ...EARLIER, factor: d("10.33"), standardUncertainty: d("0.005") } },
    ],
  ])("looks into %s", (_, key, own) => {
    const found = verdict(own);
    expect(stateOf(found, key)).toBe("beyond");
    expect(found.outcome).toBe("investigate");
  });

  it("stops at a change of more than 2 %, in either direction", () => {
    for (const factor of ["10.11", "10.63"]) {
      expect(verdict({ earlier: { ...EARLIER, factor: d(factor) } }).outcome).toBe("stop");
    }
  });

  it("says what it could not test, and why", () => {
    const single = verdict({
      result: plainCalibration({ lengths: ["1000"], divisions: ["96.4"] }),
      nominal: null,
      earlier: null,
    });
    expect(single.outcome).toBe("accept");
    for (const key of ["relative-deviation", "range", "nominal-deviation", "change-stop", "agreement"]) {
      expect(stateOf(single, key), key).toBe("not tested");
    }
    expect(single.findings.find((one) => one.key === "range")?.words).toContain("one setting only");
  });

  it("takes findings of the linearity tests as something to look into", () => {
    const result = good();
    const settings = ["96.4", "96.5", "96.3"].map((right) => ({
      reticleLeft: ZERO,
      reticleRight: d(right),
      lineLeft: ZERO,
      lineRight: d(1000),
    }));
    const linearity = { ...linearityOf(settings, result), findings: ["Field distortion: the scale bows."] };
    expect(verdict({ result, linearity }).outcome).toBe("investigate");
    expect(verdict({ result, linearity }).remarks).toEqual(["Field distortion: the scale bows."]);
  });

  it("finds a change the shared micrometer hides", () => {
    const earlier = {
      ...EARLIER,
      factor: d("10.3564"),
      standardUncertainty: d("0.005"),
      commonUncertainty: d("0.0049"),
    };
    const found = verdict({ earlier });
    expect(found.agreement?.normalisedError.abs().lessThan(found.agreement.normalisedErrorApart.abs())).toBe(
      true,
    );
    const apart = verdict({ earlier: { ...earlier, sameMicrometer: false } });
    expect(apart.agreement?.normalisedError.equals(apart.agreement.normalisedErrorApart)).toBe(true);
  });
});

describe("limits", () => {
  it("each have a value, a meaning and an origin", () => {
    for (const key of LIMIT_KEYS) {
      expect(d(PROPOSED_LIMITS[key].value).greaterThan(0)).toBe(true);
      expect(PROPOSED_LIMITS[key].meaning.length).toBeGreaterThan(10);
      expect(PROPOSED_LIMITS[key].origin.length).toBeGreaterThan(10);
    }
  });

  it("may be one's own, but not zero, and the stop not before the look", () => {
    expect(limitsWith({ span: d(30) }).span.toString()).toBe("30");
    expect(() => limitsWith({ range: ZERO })).toThrow(/^limits\.range: /);
    expect(() => limitsWith({ range: d("NaN") })).toThrow(/^limits\.range: /);
    expect(() => limitsWith({ "change-stop": d("0.5") })).toThrow(/^limits\.change-stop: /);
  });
});

describe("agreement of two factors", () => {
  const factor = fc.integer({ min: 9_000, max: 11_000 }).map((n) => d(n).div(1000));
  const u = fc.integer({ min: 5, max: 100 }).map((n) => d(n).div(1000));

  it("is the same both ways round but for its sign, and sharper with a shared part taken out", () => {
    fc.assert(
      fc.property(factor, factor, u, u, (f1, f2, u1, u2) => {
        const earlier = { factor: f1, standardUncertainty: u1 };
        const later = { factor: f2, standardUncertainty: u2 };
        const sharedUncertainty = u1.lessThan(u2) ? u1.times("0.9") : u2.times("0.9");
        const there = agreementOf({ earlier, later, sharedUncertainty });
        const back = agreementOf({ earlier: later, later: earlier, sharedUncertainty });
        expect(there.normalisedError.negated().toFixed(20)).toBe(back.normalisedError.toFixed(20));
        expect(there.normalisedErrorApart.abs().greaterThanOrEqualTo(there.normalisedError.abs())).toBe(true);
      }),
    );
  });

  it("uses the U of each at its own coverage factor", () => {
    const earlier = { factor: d(10), standardUncertainty: d("0.01"), expandedUncertainty: d("0.03") };
    const later = { factor: d("10.05"), standardUncertainty: d("0.01"), expandedUncertainty: d("0.04") };
    expect(agreementOf({ earlier, later, sharedUncertainty: ZERO }).normalisedError.toString()).toBe("1");
    expect(
      agreementOf({ earlier, later, sharedUncertainty: d("0.01") }).normalisedErrorApart.toFixed(15),
    ).toBe("5.000000000000000");
  });

  it("tells agreement, a hidden change and a discrepancy apart", () => {
    const of = (later: string, shared: string) =>
      agreementOf({
        earlier: { factor: d(10), standardUncertainty: d("0.01") },
        later: { factor: d(later), standardUncertainty: d("0.01") },
        sharedUncertainty: d(shared),
      }).verdict;
    expect(of("10.02", "0")).toBe("agrees");
    expect(of("10.02", "0.009")).toBe("hidden change");
    expect(of("10.04", "0")).toBe("discrepancy");
  });

  it("refuses a shared part larger than either, and a check without uncertainty", () => {
    const one = { factor: d(10), standardUncertainty: d("0.01") };
    expect(() => agreementOf({ earlier: one, later: one, sharedUncertainty: d("0.02") })).toThrow(
      /^sharedUncertainty: /,
    );
    expect(() =>
      agreementOf({ earlier: one, later: { ...one, factor: d("NaN") }, sharedUncertainty: ZERO }),
    ).toThrow(/^later\.factor: /);
    const sure = { factor: d(10), standardUncertainty: ZERO };
    expect(() => intermediateCheck(sure, sure)).toThrow(/^check\.standardUncertainty: /);
  });
});
