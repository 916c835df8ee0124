import { describe, expect, it } from "vitest";
import { RANK_REASONS, type RankReason } from "#core/calibration/micrometer-adviser.ts";
import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import { choose } from "#core/practice/exercises/choose.ts";
import { CHOOSING_DAY, micrometerChoice } from "#core/practice/exercises/micrometer-choice.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { holds, partOfReaders, SHARE_SCATTER } from "../../support/answer-shares.ts";

const TASKS = Array.from({ length: 600 }, (_, index) =>
  micrometerChoice(1 + Math.floor(index / choose.tasks), 1 + (index % choose.tasks)),
);

describe("tasks", () => {
  it("have one best slide, by a reason that can be seen in what is said of the slides", () => {
    for (const { objective, slides, ranked, reason } of TASKS) {
      const field = 10_000 / objective.objective;
      const [best, next] = ranked.slice(0, 2).map(({ id }) => slides.find((slide) => slide.id === id));
      const inDate = (slide: typeof best): boolean => (slide?.certificateDueOn ?? "") >= CHOOSING_DAY;
      expect(inDate(best)).toBe(true);
      // Worked out anew from the engraving: what lies under the scale, and the lines there.
      const under = (slide: typeof best): number => {
        const pitch = Number(slide?.scaleLengthUm) / (slide?.divisions ?? 1);
        return Math.floor(Math.min(Number(slide?.scaleLengthUm), field) / pitch + 1e-9) * pitch;
      };
      const lines = (slide: typeof best): number =>
        under(slide) / (Number(slide?.scaleLengthUm) / (slide?.divisions ?? 1));
      if (reason === "certificate") expect(inDate(next)).toBe(false);
      if (reason === "span") expect(under(best) / field - under(next) / field).toBeGreaterThan(0.15);
      if (reason === "uncertainty") {
        const relative = (slide: typeof best): number => Number(slide?.expandedUncertainty) / under(slide);
        expect(relative(next) / relative(best)).toBeGreaterThan(1.5);
      }
      if (reason === "lines") expect(lines(best) / lines(next)).toBeGreaterThanOrEqual(2);
    }
  });

  it("ask for every reason about as often", () => {
    // 150 of each expected, standard deviation 11.
    for (const reason of RANK_REASONS) {
      const times = TASKS.filter((task) => task.reason === reason).length;
      expect(Math.abs(times - 150)).toBeLessThan(45);
    }
  });
});

/** The seed of the class in which all readers sit. */
const CLASS = 417;

/** Somebody who takes the best slide and its reason with known chances. */
function resultOf(seed: number, chanceSlide: number, chanceReason: number) {
  const chance = evenChance(seed + 99_001);
  const answers = Array.from({ length: choose.tasks }, (_, index) => {
    const { ranked, reason } = micrometerChoice(CLASS, index + 1);
    const slide = chance() < chanceSlide ? 0 : 1 + Math.floor(chance() * 3);
    const other = RANK_REASONS[(RANK_REASONS.indexOf(reason) + 1) % RANK_REASONS.length] as RankReason;
    const given = chance() < chanceReason ? reason : other;
    return { typed: { slide: ranked[slide]?.id ?? "", reason: given }, seconds: decimal(20) };
  });
  return choose.score(CLASS, answers, PROPOSED_PRACTICE_CRITERIA);
}

describe("the score", () => {
  it("recovers known shares of right slides and right reasons at least 95 of 100 times", () => {
    expect(partOfReaders((seed) => holds(resultOf(seed, 0.7, 0.6), "right", 70))).toBeGreaterThan(
      0.95 - SHARE_SCATTER,
    );
    expect(partOfReaders((seed) => holds(resultOf(seed, 0.7, 0.6), "reasons", 42))).toBeGreaterThan(
      0.95 - SHARE_SCATTER,
    );
  });

  it("fails somebody exactly at the criterion at most 2.5 times in a hundred, who knows never, who guesses nearly always", () => {
    const fails = (share: number) => partOfReaders((seed) => resultOf(seed, share, 1).verdict === "not met");
    expect(fails(0.8)).toBeLessThan(0.025 + 0.015);
    expect(fails(1)).toBe(0);
    expect(fails(0.25)).toBeGreaterThan(0.97);
  });
});

describe("an answer", () => {
  it.each([
    [{ slide: "5", reason: "span" }, "typed.slide"],
    [{ slide: "1", reason: "colour" }, "typed.reason"],
    [{ slide: "1" }, "typed.reason"],
  ])("%j is refused at %s", (typed, field) => {
    expect(() => choose.readAnswer(typed)).toThrow(field);
  });

  it("is reviewed: the right slide for a wrong reason is not right", () => {
    const { ranked, reason } = micrometerChoice(8, 2);
    const slide = ranked[0]?.id ?? "";
    const wrong = reason === "span" ? "lines" : "span";
    expect(choose.review?.(8, 2, { slide, reason })).toMatchObject({ right: true });
    expect(choose.review?.(8, 2, { slide, reason: wrong })).toMatchObject({ right: false });
  });
});
