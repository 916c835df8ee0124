import { describe, expect, it } from "vitest";
import { quotientStatistics, type Spore, sporeVolume } from "#core/methods/spore-quotient.ts";
import { DEFAULT_SPORE_STRING, SPORE_TOKENS, sporeString } from "#core/methods/spore-string.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { TWENTY_SPORES } from "#core/selftest/data/twenty-spores.ts";

const spore = (length: string, width: string): Spore => ({ length: decimal(length), width: decimal(width) });

describe("the report string of spores", () => {
  it("changes with the percentile definition, which is why the definition is printed", () => {
    const type6 = sporeString(TWENTY_SPORES, { ...DEFAULT_SPORE_STRING, percentileType: 6, template: "{L}" });
    expect(type6).toBe("(8.1–) 8.1–10.9 (–10.9)");
    expect(sporeString(TWENTY_SPORES, { ...DEFAULT_SPORE_STRING, template: "{L}" })).toBe(
      "(8.1–) 8.4–10.3 (–10.9)",
    );
  });

  it("rounds ties by the rule chosen, on the decimals", () => {
    const ties = [spore("10.25", "5.05"), spore("10.25", "5.05")];
    const template = "{Lm} {Wm}";
    expect(sporeString(ties, { ...DEFAULT_SPORE_STRING, template })).toBe("10.2 5.0");
    expect(sporeString(ties, { ...DEFAULT_SPORE_STRING, template, rounding: "half-up" })).toBe("10.3 5.1");
  });

  it("fills every token it knows", () => {
    const template = SPORE_TOKENS.map((token) => `{${token}}`).join("|");
    const text = sporeString(
      TWENTY_SPORES,
      { ...DEFAULT_SPORE_STRING, template },
      { medium: "KOH", origin: "print", state: "live" },
    );
    expect(text).toBe(
      "(8.1–) 8.4–10.3 (–10.9)|(5.5–) 5.6–6.6 (–6.8)|(1.43–) 1.45–1.59 (–1.60)|9.3|6.2|1.51|186|20|5–95 %|KOH|print|live",
    );
  });

  it("leaves no hole: an unknown token or a missing remark is named", () => {
    const of = (template: string) => () => sporeString(TWENTY_SPORES, { ...DEFAULT_SPORE_STRING, template });
    expect(of("{l}")).toThrow("template: has an unknown token {l}; known are {L} {W}");
    expect(of("{toString}")).toThrow("template: has an unknown token {toString}");
    expect(of("{medium}")).toThrow("medium: is empty, but the report string asks for {medium}");
  });

  it.each([
    [{ lowerPercentile: 90, upperPercentile: 10 }, "lowerPercentile: "],
    [{ lowerPercentile: 50, upperPercentile: 50 }, "lowerPercentile: "],
    [{ upperPercentile: 101 }, "upperPercentile: must be at most 100"],
    [{ places: -1 }, "places: "],
    [{ quotientPlaces: 1.5 }, "quotientPlaces: "],
  ])("refuses %j", (choice, message) => {
    expect(() => sporeString(TWENTY_SPORES, { ...DEFAULT_SPORE_STRING, ...choice })).toThrow(message);
  });

  it("may reach from the least to the greatest spore", () => {
    const whole = { ...DEFAULT_SPORE_STRING, lowerPercentile: 0, upperPercentile: 100, template: "{L}" };
    expect(sporeString(TWENTY_SPORES, whole)).toBe("(8.1–) 8.1–10.9 (–10.9)");
  });

  it("needs spores, and real ones", () => {
    expect(() => sporeString([])).toThrow("spores: must not be empty");
    expect(() => sporeString([spore("8", "5"), spore("0", "5")])).toThrow(
      "spores.1.length: must be greater than zero",
    );
    expect(() => sporeVolume(spore("8", "-5"))).toThrow("spores.0.width: ");
  });
});

describe("the quotient Q", () => {
  it("has a mean of ratios that is not the ratio of means", () => {
    const statistics = quotientStatistics([spore("10", "5"), spore("6", "6")]);
    expect(statistics.mean.toString()).toBe("1.5");
    expect(statistics.ratioOfMeans.toNumber()).toBeCloseTo(16 / 11, 14);
  });

  it("has no deviation for a single spore", () => {
    expect(quotientStatistics([spore("9", "6")])).toMatchObject({ n: 1, deviation: null });
  });
});
