import { describe, expect, it } from "vitest";
import { MethodDefinition } from "#core/contract/records/method.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { requireMethodDefinition } from "#core/measurement/methods/method-check.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";
import { READY_METHODS } from "#core/measurement/methods/ready-methods.ts";
import { nextLabel } from "#core/measurement/next-label.ts";
import { type ReportedObject, reportedObject, reportString } from "#core/measurement/report-string.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { S30 } from "#core/selftest/data/golden-sample.ts";
import { TWENTY_SPORES } from "#core/selftest/data/twenty-spores.ts";

function ready(id: string): MethodDefinition {
  const found = READY_METHODS.find((one) => one.id === id);
  if (!found) throw new Error(`no ready method ${id}`);
  return found.definition;
}

describe("a stored method of an earlier program", () => {
  const old = {
    name: "Length",
    dimensions: [{ key: "l", name: "Length" }],
    edgeConvention: "",
    reading: defaultTypedReadingConditions(),
    coverage: "t95",
    rounding: "half-even",
    minimumDivisions: "",
    note: "",
  };

  it("is a plain length, read once at its two edges", () => {
    expect(MethodDefinition.parse(old)).toEqual({ ...old, ...PLAIN_METHOD });
  });
});

describe("ready methods", () => {
  it.each(READY_METHODS.map((one) => [one.id, one] as const))("%s can be defined as it is", (_, method) => {
    expect(MethodDefinition.parse(method.definition)).toEqual(method.definition);
    requireMethodDefinition(method.definition);
    expect(method.source.length).toBeGreaterThan(5);
    expect(method.cautions.length).toBeGreaterThan(0);
  });

  it("have names and ids of their own", () => {
    for (const list of [
      READY_METHODS.map((one) => one.id),
      READY_METHODS.map((one) => one.definition.name),
    ]) {
      expect(new Set(list).size).toBe(list.length);
    }
  });
});

describe("what a method cannot be", () => {
  const pollen = ready("pollen-p-e");
  it.each<[string, Partial<MethodDefinition>, string]>([
    [
      "a quantity with the key of a dimension",
      { derived: [{ key: "p", name: "P", kind: "mean", of: ["p", "e"] }] },
      "derived.0.key",
    ],
    [
      "a quantity of a dimension it has not",
      { classes: [], derived: [{ key: "q", name: "Q", kind: "ratio", of: ["p", "x"] }] },
      "derived.0.of.1",
    ],
    [
      "a ratio of one",
      { classes: [], derived: [{ key: "q", name: "Q", kind: "ratio", of: ["p"] }] },
      "derived.0.of",
    ],
    [
      "a mean of one",
      { classes: [], derived: [{ key: "q", name: "Q", kind: "mean", of: ["p"] }] },
      "derived.0.of",
    ],
    [
      "a ratio to itself",
      { classes: [], derived: [{ key: "q", name: "Q", kind: "ratio", of: ["p", "p"] }] },
      "derived.0.of",
    ],
    ["classes of nothing", { classes: [{ of: "x", tableId: "erdtman-shape" }] }, "classes.0.of"],
    ["classes of a table there is not", { classes: [{ of: "p", tableId: "none" }] }, "classes.0.tableId"],
    [
      "percentiles the wrong way round",
      { percentiles: { type: 7, lower: "90", upper: "10" } },
      "percentiles.upper",
    ],
    ["a percentile above 100", { percentiles: { type: 7, lower: "5", upper: "101" } }, "percentiles.upper"],
    ["a percentile in words", { percentiles: { type: 6, lower: "few", upper: "95" } }, "percentiles.lower"],
    [
      "limits of nothing",
      { limits: [{ of: "x", lower: "1", upper: "", rule: "simple-acceptance" }] },
      "limits.0.of",
    ],
    [
      "limits without a limit",
      { limits: [{ of: "p", lower: "", upper: "", rule: "simple-acceptance" }] },
      "limits.0.lower",
    ],
    [
      "limits the wrong way round",
      { limits: [{ of: "p", lower: "3", upper: "2", rule: "guarded-acceptance" }] },
      "limits.0.upper",
    ],
    ["nothing wanted", { wantedPercent: "0" }, "wantedPercent"],
    [
      "a pair notation of one dimension",
      { dimensions: [{ key: "p", name: "P" }], derived: [], classes: [] },
      "report.kind",
    ],
  ])("%s is refused at its field", (_, change, field) => {
    expect(() => requireMethodDefinition({ ...pollen, ...change })).toThrow(
      expect.objectContaining({ field }),
    );
  });
});

describe("report strings", () => {
  const spores: ReportedObject[] = TWENTY_SPORES.map(({ length, width }) => ({ l: length, w: width }));

  it("write spores with the percentiles and decimals of the method", () => {
    // Form and 5 and 95 %: R. E. Tulloss and J. E. Lindgren, Mycotaxon 91 (2005) 193–194; spores invented, percentiles by type 7 computed.
    const method = ready("spores-l-w");
    expect(reportString(spores, method)).toBe(
      "(8.1–) 8.4–10.3 (–10.9) × (5.5–) 5.6–6.6 (–6.8) µm, Q = (1.43–) 1.45–1.59 (–1.60), Qm = 1.51, n = 20, inner range 5–95 %",
    );
    expect(reportString(spores, { ...method, percentiles: { type: 7, lower: "10", upper: "90" } })).toBe(
      "(8.1–) 8.6–10.0 (–10.9) × (5.5–) 5.8–6.5 (–6.8) µm, Q = (1.43–) 1.45–1.57 (–1.60), Qm = 1.51, n = 20, inner range 10–90 %",
    );
  });

  it("write pollen with mean ± s, range and the class of the mean ratio", () => {
    // Invented grains; P/E 1.6 and 1.4, mean 1.5: prolate (Erdtman 1952, from memory).
    const grains = [
      { p: decimal(32), e: decimal(20) },
      { p: decimal(28), e: decimal(20) },
      { p: decimal(30) },
    ];
    expect(reportString(grains, ready("pollen-p-e"))).toBe(
      "P 30.0 ± 2.8 (28.0–32.0) µm, E 20.0 ± 0.0 (20.0–20.0) µm, P/E 1.50 ± 0.14 (1.40–1.60), prolate, n = 2",
    );
  });

  it("write each dimension alone, one value without a spread", () => {
    const method = ready("particle-length-width");
    expect(reportString([{ l: decimal(10), w: decimal(4) }, { l: decimal("12.04") }], method)).toBe(
      "Length 11.0 ± 1.4 (10.0–12.0) µm, n = 2; Width 4.0 (4.0–4.0) µm, n = 1",
    );
  });

  it("write particles by number and by volume, of the first dimension", () => {
    // Invented diameters; every figure recomputed with R 4.2.2 (golden-sizes and golden-sample of the self-test).
    const method: MethodDefinition = {
      ...ready("particle-length-width"),
      report: { kind: "particle sizes", places: 2, ratioPlaces: 3 },
      percentiles: { type: 7, lower: "10", upper: "90" },
    };
    const particles = S30.map((l) => ({ l }));
    expect(reportString(particles, method)).toBe(
      "Length: by number D[1,0] 15.74 µm; by volume, as spheres, D[4,3] 19.99, Dv10 13.19, Dv50 19.18, Dv90 28.23 µm, span 0.784; D[3,2] 18.49 µm, n = 30; the largest particle alone is 16 % of the volume and decides Dv90",
    );
    // A size that is no diameter is none of them.
    expect(reportString([...particles, { l: decimal(0) }, {}], method)).toBe(reportString(particles, method));
    // One particle reaches neither end, and there is no span of it.
    expect(reportString([{ l: decimal(10) }], method)).toContain(
      "Dv10 < 10.00, Dv50 10.00, Dv90 > 10.00 µm; D[3,2]",
    );
    const many = Array.from({ length: 50 }, (_, at) => ({ l: decimal(100 + at) }));
    expect(reportString(many, method)).not.toContain("alone");
  });

  it("are none where nothing is measured or none is wanted", () => {
    for (const { definition } of READY_METHODS) expect(reportString([], definition)).toBeNull();
    expect(
      reportString(spores, { ...ready("spores-l-w"), report: { kind: "none", places: 1, ratioPlaces: 2 } }),
    ).toBeNull();
  });

  it("take the sizes of a row", () => {
    const row = {
      measurements: [
        { dimension: "l", size: { value: "10.5" } },
        { dimension: "w", size: null },
      ],
    };
    expect(reportedObject(row)).toEqual({ l: decimal("10.5") });
  });
});

describe("running labels", () => {
  it.each([
    ["Alnus 9", "Alnus 10"],
    ["B-09", "B-10"],
    ["7", "8"],
    ["099", "100"],
    ["Alnus", "Alnus"],
    ["", ""],
    ["x1234567890", "x1234567890"],
  ])("%j is followed by %j", (label, next) => {
    expect(nextLabel(label)).toBe(next);
  });
});
