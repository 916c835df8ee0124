import { RANK_REASONS } from "#core/calibration/micrometer-adviser.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { textOfPresses } from "#core/practice/exercises/count.ts";
import { countField } from "#core/practice/exercises/count-field.ts";
import { FAULTS, faultyBench } from "#core/practice/exercises/faulty-bench.ts";
import { calibratedTurret, measuredSpecimen } from "#core/practice/exercises/measured-specimen.ts";
import { micrometerChoice } from "#core/practice/exercises/micrometer-choice.ts";
import type { Press } from "#core/practice/exercises/press-matching.ts";
import { freeTruth } from "#core/practice/free-view.ts";
import { reticleReading } from "#core/practice/view/scene.ts";
import { memberAt } from "#core/statistics/sample.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import type { Chance } from "./seeded-chance.ts";

/** How an invented person reads. */
export interface Reader {
  /** Error of a reading and its scatter, divisions. */
  readonly bias: number;
  readonly scatter: number;
  /** Reads to this part of a division: 0.1, or 0.5 of one who sees halves. */
  readonly step: number;
  /** Chance of a wrong answer, of a slip, of an object missed. */
  readonly errs: number;
}

type Typed = Record<string, string>;
type Answer = (seed: number, ordinal: number, reader: Reader, chance: Chance) => Typed;

function read(divisions: number, { bias, scatter, step }: Reader, chance: Chance): string {
  const seen = divisions + bias + scatter * chance.normal();
  return (Math.round(Math.min(100, Math.max(0, seen)) / step) * step).toFixed(1);
}

const lookAt = (exercise: ExerciseName, seed: number, ordinal: number) =>
  memberAt(exerciseNamed(exercise).task(seed, ordinal).looks, 0).view;

/** One of the others. */
function another<T>(all: readonly T[], right: T, chance: Chance): T {
  const others = all.filter((one) => one !== right);
  return memberAt(others, chance.whole(others.length));
}

/** What such a person would type at each exercise: from what is drawn, with their errors. */
export const ANSWERS: Readonly<Record<ExerciseName, Answer>> = {
  tenths(seed, ordinal, reader, chance) {
    const { optics, placing } = lookAt("tenths", seed, ordinal);
    return { reading: read(reticleReading(optics, placing.xUm), reader, chance) };
  },

  "line-up"(seed, ordinal, reader, chance) {
    const { optics, placing } = lookAt("line-up", seed, ordinal);
    const turnedDeg = Math.round(3 * chance.normal()) / 10;
    const [from, to] = freeTruth(optics, { ...placing, turnedDeg }).span ?? [];
    if (!from || !to) throw new Error("the drawn slide does not reach across the scale");
    return {
      reticleFrom: read(from.divisions, reader, chance),
      lineFrom: String(from.atUm),
      reticleTo: read(to.divisions, reader, chance),
      lineTo: String(to.atUm),
      turned: turnedDeg.toFixed(1),
    };
  },

  "find-fault"(seed, ordinal, { errs }, chance) {
    const { fault } = faultyBench(seed, ordinal);
    const named = chance.happens(errs) ? another(FAULTS, fault, chance) : fault;
    return { fault: named, looks: String(1 + chance.whole(5)) };
  },

  choose(seed, ordinal, { errs }, chance) {
    const { ranked, reason } = micrometerChoice(seed, ordinal);
    const slide = memberAt(ranked, chance.happens(errs) ? 1 : 0).id;
    return { slide, reason: chance.happens(errs) ? another(RANK_REASONS, reason, chance) : reason };
  },

  measure(seed, ordinal, reader, chance) {
    const { optics } = memberAt(calibratedTurret(seed), 2);
    const { lengthUm, placing } = measuredSpecimen(seed, ordinal);
    const at = (side: number): string =>
      read(reticleReading(optics, placing.xUm + (side * lengthUm.toNumber()) / 2), reader, chance);
    return {
      objective: "40",
      from: at(-1),
      to: at(1),
      look: chance.happens(reader.errs / 4) ? "20×" : "40×",
    };
  },

  count(seed, ordinal, { errs }, chance) {
    const presses = countField(seed, ordinal).flatMap(({ kind, counts, crossed, specimen }): Press[] => {
      if (crossed.length > 0 && chance.happens(errs) ? counts : !counts) return [];
      if (kind === "dirt" || chance.happens(errs / 3)) return [];
      const taken = chance.happens(errs) ? another(["1", "2"] as const, kind, chance) : kind;
      return [{ kind: taken, atUm: specimen.xUm + chance.between(-1, 1) }];
    });
    return { presses: textOfPresses(presses) };
  },
};
