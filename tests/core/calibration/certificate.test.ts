import { describe, expect, it } from "vitest";
import { linesFromTable } from "#core/calibration/certificate-table.ts";
import { certifiedInterval } from "#core/calibration/certified-interval.ts";
import type { CertifiedScale } from "#core/calibration/certified-scale.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { CertificateSign } from "#core/vocabulary/calibration.ts";

const d = decimal;
const rows = (text: string) =>
  text.split(" ").map((pair) => {
    const [nominal = "", value = ""] = pair.split(":");
    return { nominal: d(nominal), value: d(value) };
  });

describe("the table of a certificate", () => {
  it.each<[CertificateSign, string, string]>([
    ["position", "0:0 100:100.1", "0.1"],
    ["error", "0:0 100:0.1", "0.1"],
    ["correction", "0:0 100:0.1", "0.1"],
    ["indication-error", "0:0 100:0.1", "-0.1"],
  ])("with %s values gives certified − nominal", (sign, table, error) => {
    expect(linesFromTable(sign, rows(table))[1]?.error.toString()).toBe(error);
  });

  it.each<[string, CertificateSign, string, RegExp]>([
    ["a single line", "error", "0:0", /^lines: /],
    ["falling positions", "error", "0:0 100:0 50:0", /^lines\.2\.nominal: /],
    ["the same position twice", "error", "0:0 100:0 100:0", /^lines\.2\.nominal: /],
    ["positions given as errors", "error", "0:0 100:100.1 200:200.2", /^lines\.1\.value: .*100\.1 µm/],
    ["errors given as positions", "position", "0:0 100:0.1", /^lines\.1\.value: /],
    ["nanometres for micrometres", "error", "0:0 100:120", /^lines\.1\.value: /],
    ["a value that is no number", "error", "0:0 100:NaN", /^lines\.1\.value: /],
    ["an infinite position", "error", "0:0 Infinity:0", /^lines\.1\.nominal: /],
  ])("with %s is refused at its field", (_, sign, table, field) => {
    expect(() => linesFromTable(sign, rows(table))).toThrow(field);
  });
});

describe("a certified interval", () => {
  const scale: CertifiedScale = {
    lines: linesFromTable("error", rows("0:0 100:0.1 900:0.2 1000:0.4")),
    expandedUncertainty: d("0.3"),
    coverageFactor: d(2),
  };

  it("between certified lines has the certificate's own uncertainty", () => {
    const interval = certifiedInterval(scale, d(100), d(1000));
    expect(interval.length.toString()).toBe("900.3");
    expect(interval.standardUncertainty.toString()).toBe("0.15");
    expect(interval.interpolated).toBe(false);
  });

  it("to a line between certified ones says so and is less sure", () => {
    const interval = certifiedInterval(scale, d(100), d(960));
    expect(interval.interpolated).toBe(true);
    // Half the largest step of error, 0.1 µm, as a rectangle beside u = 0.15 µm.
    expect(interval.standardUncertainty.pow(2).toFixed(10)).toBe(
      d("0.15").pow(2).plus(d("0.01").div(3)).toFixed(10),
    );
    const both = certifiedInterval(scale, d(50), d(960));
    expect(both.standardUncertainty.greaterThan(interval.standardUncertainty)).toBe(true);
  });

  it.each([
    ["from", -1, 100],
    ["to", 0, 1001],
    ["to", 100, 100],
    ["to", 900, 100],
    ["from", Number.NaN, 100],
    ["to", 0, Number.POSITIVE_INFINITY],
  ])("is refused at %s for %d to %d", (field, from, to) => {
    expect(() => certifiedInterval(scale, d(from), d(to))).toThrow(new RegExp(`^${field}: `));
  });

  it("adds up: two neighbouring intervals make the whole", () => {
    const whole = certifiedInterval(scale, d(0), d(1000)).length;
    const sum = certifiedInterval(scale, d(0), d(437)).length.plus(
      certifiedInterval(scale, d(437), d(1000)).length,
    );
    expect(sum.equals(whole)).toBe(true);
  });
});
