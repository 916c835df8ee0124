import { describe, expect, it } from "vitest";
import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import { measure } from "#core/practice/exercises/measure.ts";
import {
  calibratedTurret,
  measuredSpecimen,
  objectiveOf,
} from "#core/practice/exercises/measured-specimen.ts";
import { trueFactorUm } from "#core/practice/view/scene.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { holds, partOfReaders, SHARE_SCATTER } from "../../support/answer-shares.ts";

/** A reader of known faults. */
interface Reader {
  /** Error of the size in per cent: mean and scatter. */
  readonly bias: number;
  readonly scatter: number;
  /** Chance that the objective in the path is not the one entered. */
  readonly slips: number;
  /** Reads from inside of the wall to inside. */
  readonly inside?: boolean;
  /** Errors in divisions in place of per cent. */
  readonly inDivisions?: boolean;
}

/** Rounding both edges to tenths adds 0.1/√6 div to a size (JCGM 100:2008 F.2.2.1). */
const ROUNDING = 0.1 / Math.sqrt(6);

function resultOf(seed: number, reader: Reader) {
  const even = evenChance(seed + 123_457);
  const normal = (): number => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
  const turret = calibratedTurret(seed);
  const answers = Array.from({ length: measure.tasks }, (_, index) => {
    const { lengthUm, otherEdgesUm } = measuredSpecimen(seed, index + 1);
    const entered = objectiveOf(turret, "40");
    const slip = even() < reader.slips;
    const edge = reader.inside ? (otherEdgesUm[0] ?? lengthUm) : lengthUm;
    const true40 = edge.div(entered.factorUm).toNumber();
    const error = reader.bias + reader.scatter * normal();
    const divisions = reader.inDivisions ? true40 + error : true40 * (1 + error / 100);
    const from = 20 + even();
    const [left, right] = [from.toFixed(1), (from + divisions).toFixed(1)];
    const typed = { objective: "40", from: left, to: right, look: slip ? "20×" : "40×" };
    return { typed, seconds: decimal(15) };
  });
  return measure.score(seed, answers, PROPOSED_PRACTICE_CRITERIA);
}

const near95 = (share: number): void => {
  expect(Math.abs(share - 0.95)).toBeLessThan(SHARE_SCATTER);
};

describe("the score of sizes", () => {
  it("recovers bias and scatter in per cent and in divisions, and the part of slips, 95 of 100 times", () => {
    const perCent = { bias: 1.2, scatter: 3, slips: 0.1 };
    near95(partOfReaders((seed) => holds(resultOf(seed, perCent), "size", 1.2)));
    const slips = partOfReaders((seed) => holds(resultOf(seed, perCent), "slips", 10));
    expect(slips).toBeGreaterThan(0.95 - SHARE_SCATTER);
    const inDivisions = { bias: 0.2, scatter: 0.3, slips: 0, inDivisions: true };
    near95(partOfReaders((seed) => holds(resultOf(seed, inDivisions), "bias-40", 0.2)));
    const scatter = Math.hypot(0.3, ROUNDING);
    near95(partOfReaders((seed) => holds(resultOf(seed, inDivisions), "scatter-40", scatter)));
  });

  it("fails somebody exactly at one limit at most 2.5 times in a hundred, a good reader hardly ever", () => {
    // Rounding adds little to 4 %: sizes are 6 to 36 divisions. Three standard deviations of 0.025: 0.015.
    const fails = (reader: Reader) => partOfReaders((seed) => resultOf(seed, reader).verdict === "not met");
    expect(fails({ bias: 2, scatter: 2, slips: 0 })).toBeLessThan(0.025 + 0.015);
    expect(fails({ bias: 0, scatter: 3.9, slips: 0 })).toBeLessThan(0.025 + 0.015);
    expect(fails({ bias: 0, scatter: 1, slips: 0.05 })).toBeLessThan(0.025 + 0.015);
    expect(fails({ bias: 0.3, scatter: 1.5, slips: 0 })).toBeLessThan(0.005);
  });

  it("fails one who is far off, scatters widely or forgets the objective", () => {
    const fails = (reader: Reader) => partOfReaders((seed) => resultOf(seed, reader).verdict === "not met");
    expect(fails({ bias: 6, scatter: 2, slips: 0 })).toBeGreaterThan(0.99);
    expect(fails({ bias: 0, scatter: 9, slips: 0 })).toBeGreaterThan(0.97);
    expect(fails({ bias: 0, scatter: 1, slips: 0.5 })).toBeGreaterThan(0.97);
  });

  it("tells who reads at the inside of the wall, and nobody else", () => {
    const at = (reader: Reader) => {
      const figure = resultOf(7, reader).figures.find(({ name }) => name === "other-edge");
      return Number(figure?.value);
    };
    // Where the wall is thinner than a division only the tips of spines or apiculus can be told, and were not read.
    expect(at({ bias: 0, scatter: 0, slips: 0, inside: true })).toBeGreaterThan(90);
    expect(at({ bias: 0, scatter: 0, slips: 0 })).toBe(0);
  });
});

describe("what is drawn", () => {
  it("fits on the scale of every objective and is what the truth says; factors are the optics’ own", () => {
    for (let seed = 1; seed <= 40; seed += 1) {
      for (const { optics, factorUm } of calibratedTurret(seed))
        expect(Math.abs(factorUm.toNumber() / trueFactorUm(optics) - 1)).toBeLessThan(0.0005);
      for (let ordinal = 1; ordinal <= measure.tasks; ordinal += 1) {
        const { specimen, lengthUm, placing } = measuredSpecimen(seed, ordinal);
        if (specimen.outline.kind === "debris") throw new Error("nothing to measure");
        expect(specimen.outline.lengthUm).toBe(lengthUm.toNumber());
        expect(lengthUm.toNumber() / 2 + Math.abs(placing.xUm)).toBeLessThan(50 * 2.4);
      }
    }
  });
});

describe("a row", () => {
  const good = { objective: "40", from: "20.1", to: "44,8", look: "40×" };
  it.each([
    [{ ...good, objective: "30" }, "typed.objective", "must be one of the turret"],
    [{ ...good, from: "20" }, "typed.from", "read to tenths"],
    [{ ...good, to: "100.1" }, "typed.to", "must lie on the scale"],
    [{ ...good, to: "20.1" }, "typed.to", "right of the left edge"],
    [{ ...good, from: "" }, "typed.from", "is empty"],
    [{ ...good, look: "" }, "typed.look", "an objective of the turret"],
  ])("%j is refused at %s: %s", (typed, field, words) => {
    expect(() => measure.readAnswer(typed)).toThrow(field);
    expect(() => measure.readAnswer(typed)).toThrow(words);
  });

  it("is taken with a point or a comma", () => {
    expect(() => measure.readAnswer(good)).not.toThrow();
  });
});
