import type { PracticeAttempt, PracticeFigure } from "../contract/records/practice.ts";
import type { PracticeClass, SlideReading } from "../contract/records/practice-class.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { type GaugeStudy, gaugeStudy } from "../statistics/gauge-study.ts";
import { type OneWayAnova, oneWayAnova } from "../statistics/one-way-anova.ts";
import { mean, standardDeviation } from "../statistics/sample.ts";
import type { PracticeFigureName } from "../vocabulary/practice.ts";
import { ALL_EXERCISES, exerciseOf } from "./exercises/all-exercises.ts";
import type { Exercise } from "./exercises/exercise.ts";

/** Values of one person: how many, mean, s; s is null of a single one. */
export interface MemberSample {
  readonly personId: string;
  readonly n: number;
  readonly mean: Decimal;
  readonly deviation: Decimal | null;
}

export interface MemberResult {
  readonly personId: string;
  /** The newest that counts for the class; null: none yet. */
  readonly attempt: PracticeAttempt | null;
  /** Errors of the answers; null where answers are right or wrong, or there is no attempt. */
  readonly errors: MemberSample | null;
}

export interface ExerciseOfClass {
  readonly exercise: Exercise;
  readonly members: readonly MemberResult[];
  /** Of the errors between people; null where fewer than two have any, or there is no scatter within. */
  readonly anova: OneWayAnova | null;
}

export interface IntervalOfClass {
  readonly interval: number;
  readonly members: readonly MemberSample[];
  readonly anova: OneWayAnova | null;
}

export interface ClassReport {
  /** Exercises that somebody of the class has done. */
  readonly exercises: readonly ExerciseOfClass[];
  readonly intervals: readonly IntervalOfClass[];
  /** Of those who read every interval of the real material as often as asked; null with fewer than two. */
  readonly study: { readonly readers: readonly string[]; readonly found: GaugeStudy } | null;
}

function sampleOf(personId: string, values: readonly Decimal[]): MemberSample | null {
  if (values.length === 0) return null;
  return {
    personId,
    n: values.length,
    mean: mean(values),
    deviation: values.length < 2 ? null : standardDeviation(values),
  };
}

/** One-way analysis of variance between people (NIST/SEMATECH e-Handbook 7.4.3); null where it cannot be made. */
function anovaOf(groups: readonly (readonly Decimal[])[]): OneWayAnova | null {
  const used = groups.filter((one) => one.length > 0);
  if (used.length < 2 || !used.some((one) => one.length > 1)) return null;
  return oneWayAnova(used);
}

const errorsOf = (attempt: PracticeAttempt | null): readonly Decimal[] =>
  attempt?.result && exerciseOf(attempt).errors
    ? attempt.result.readings.map(({ error }) => decimal(error))
    : [];

/** Whether an attempt belongs to a class: of a member, begun since there is the class, with its seed where it has one. */
function isOfClass({ memberIds, madeAt, seed }: PracticeClass, attempt: PracticeAttempt): boolean {
  return (
    attempt.result !== null &&
    memberIds.includes(attempt.personId) &&
    attempt.begunAt >= madeAt &&
    (seed === null || attempt.seed === seed)
  );
}

function exerciseReport(
  exercise: Exercise,
  { memberIds }: PracticeClass,
  attempts: readonly PracticeAttempt[],
): ExerciseOfClass {
  const members = memberIds.map((personId): MemberResult => {
    const attempt =
      attempts.find((one) => one.personId === personId && one.exercise === exercise.name) ?? null;
    return { personId, attempt, errors: sampleOf(personId, errorsOf(attempt)) };
  });
  return { exercise, members, anova: anovaOf(members.map(({ attempt }) => errorsOf(attempt))) };
}

/** right − left as typed, div. */
const lengthOf = ({ left, right }: SlideReading): Decimal =>
  readDecimal("right", right).value.minus(readDecimal("left", left).value);

function studyOf(
  { memberIds, intervals, repeats }: PracticeClass,
  readings: readonly SlideReading[],
): ClassReport["study"] {
  if (intervals < 2 || repeats < 2) return null;
  const readers = memberIds.filter(
    (personId) => readings.filter((one) => one.personId === personId).length === intervals * repeats,
  );
  if (readers.length < 2) return null;
  const study = readers.map((personId) =>
    Array.from({ length: intervals }, (_, at) =>
      readings.filter((one) => one.personId === personId && one.interval === at + 1).map(lengthOf),
    ),
  );
  const scatters = study.flat().some((cell) => !standardDeviation(cell).isZero());
  return scatters ? { readers, found: gaugeStudy(study) } : null;
}

/**
 * What a class has shown: everyone's errors in each exercise with an analysis of variance between people, and of the
 * real material that all of them read the same by interval, with a crossed study of repeatability and reproducibility.
 * @param attempts newest first; those that are not of the class are left out
 */
export function classReport(
  of: PracticeClass,
  attempts: readonly PracticeAttempt[],
  readings: readonly SlideReading[],
): ClassReport {
  const used = attempts.filter((one) => isOfClass(of, one));
  const intervals = Array.from({ length: of.intervals }, (_, at): IntervalOfClass => {
    const groups = of.memberIds.map((personId) =>
      readings.filter((one) => one.personId === personId && one.interval === at + 1).map(lengthOf),
    );
    return {
      interval: at + 1,
      members: groups.flatMap((group, member) => sampleOf(of.memberIds[member] ?? "", group) ?? []),
      anova: anovaOf(groups),
    };
  });
  return {
    exercises: ALL_EXERCISES.map((exercise) => exerciseReport(exercise, of, used)).filter(({ members }) =>
      members.some(({ attempt }) => attempt !== null),
    ),
    intervals: intervals.filter(({ members }) => members.length > 0),
    study: studyOf(of, readings),
  };
}

/** From here down the final digits are too uneven for chance: one in a hundred. Our own choice. */
const UNEVEN_DIGITS = 0.01;

const above = ({ value }: PracticeFigure, middle = 0): boolean => Number(value) > middle;

/** What is said of a criterion that is exceeded. */
const LACKS: Readonly<Partial<Record<PracticeFigureName, (figure: PracticeFigure) => string>>> = {
  bias: (figure) => `reads too ${above(figure) ? "high" : "low"}`,
  scatter: () => "scatters too much",
  factor: (figure) => `gets the factor too ${above(figure) ? "large" : "small"}`,
  span: () => "uses too short a span",
  size: (figure) => `measures too ${above(figure) ? "large" : "small"}`,
  sizes: () => "scatters too much from size to size",
  slips: () => "enters another objective than the one in the path",
  recovery: (figure) => `counts too ${above(figure, 100) ? "many" : "few"}`,
};

/** What one result lacks, in words; empty where nothing is to be said. */
function lacking({ result }: PracticeAttempt): string[] {
  const words = (result?.figures ?? []).flatMap((figure) => {
    if (figure.name === "digits") return above(figure, UNEVEN_DIGITS) ? [] : ["favours some final digits"];
    return figure.exceeded ? (LACKS[figure.name]?.(figure) ?? []) : [];
  });
  return words.length === 0 && result?.verdict === "not met" ? ["does not meet the criteria"] : words;
}

/** Who should practise what, a sentence each; a limit of chance is said with it. */
export function classAdvice({ exercises }: ClassReport, nameOf: (personId: string) => string): string[] {
  const each = exercises.flatMap(({ exercise, members }) =>
    members.flatMap(({ personId, attempt }) => {
      if (attempt === null) return [`${nameOf(personId)} has not done “${exercise.title}” yet.`];
      const words = lacking(attempt);
      return words.length === 0
        ? []
        : [`${nameOf(personId)} should practise “${exercise.title}”: ${words.join(", ")}.`];
    }),
  );
  const between = exercises.flatMap(({ exercise, anova }) =>
    anova?.p !== null && anova !== null && anova.p < 0.05
      ? [
          `“${exercise.title}”: people differ from each other by more than their own scatter explains (F test, p < 0.05; of a class without differences, 5 in 100 show it).`,
        ]
      : [],
  );
  return [...each, ...between];
}
