import type { UnprovenWork } from "../contract/records/competence.ts";
import type { LaboratorySettings } from "../contract/records/laboratory.ts";
import { EXERCISES, type ExerciseName } from "../vocabulary/practice.ts";
import { isProvenAt, proofOf, type ScoredAttempt } from "./competence.ts";
import { exerciseNamed } from "./exercises/all-exercises.ts";

/** What is asked of those who work, from an instant on. */
export interface AskedPractice extends Pick<LaboratorySettings, "practiceBySignature"> {
  /** Empty: from the beginning. */
  readonly from: string;
  readonly exercises: readonly ExerciseName[];
}

/**
 * What is asked of those who work by a method: what it asks itself, from the beginning since a version never changes, and
 * what the laboratory asks beside it, each time as it was changed.
 * @param byLaboratory in the order it was asked
 */
export function askedOfWork(
  byMethod: readonly ExerciseName[],
  byLaboratory: readonly AskedPractice[],
): AskedPractice[] {
  const atFirst: AskedPractice = { from: "", exercises: [], practiceBySignature: false };
  return [atFirst, ...byLaboratory].map((one) => ({
    ...one,
    exercises: EXERCISES.filter((name) => byMethod.includes(name) || one.exercises.includes(name)),
  }));
}

/** One day's work of one person on one sheet or count: its first and its last entry, instants. */
export interface DayOfWork {
  readonly personId: string;
  readonly first: string;
  readonly last: string;
}

export interface AttemptOf extends ScoredAttempt {
  readonly personId: string;
  readonly exercise: ExerciseName;
}

/** The exercises that are asked of somebody at an instant and of which they have no proof that holds then. */
export function missingProofs(
  personId: string,
  instant: string,
  asked: readonly AskedPractice[],
  attempts: readonly AttemptOf[],
): ExerciseName[] {
  const then = asked.findLast(({ from }) => from <= instant);
  if (!then) return [];
  return then.exercises.filter((exercise) => {
    const proofs = attempts
      .filter((one) => one.personId === personId && one.exercise === exercise)
      .flatMap((one) => proofOf(one, then.practiceBySignature) ?? []);
    return !isProvenAt(proofs, instant);
  });
}

/**
 * Who worked without a proof that was asked for when they did. What was asked or shown later changes nothing
 * of it, so that a report says the same whenever it is made. A day is marked by its first or its last entry;
 * days that lack the same are said together until a day in between lacks something else, or nothing.
 * @param days in order
 * @param asked in the order it was asked
 */
export function unprovenWork(
  days: readonly DayOfWork[],
  asked: readonly AskedPractice[],
  attempts: readonly AttemptOf[],
): UnprovenWork[] {
  const missingAt = (personId: string, instant: string) => missingProofs(personId, instant, asked, attempts);
  const found: UnprovenWork[] = [];
  const going = new Map<string, UnprovenWork>();
  for (const { personId, first, last } of days) {
    const exercises = [...new Set([...missingAt(personId, first), ...missingAt(personId, last)])];
    const day = first.slice(0, 10);
    const before = going.get(personId);
    if (before && before.exercises.join() === exercises.join()) before.to = day;
    else if (exercises.length === 0) going.delete(personId);
    else {
      const one = { personId, exercises, from: day, to: day };
      going.set(personId, one);
      found.push(one);
    }
  }
  return found;
}

const titles = (exercises: readonly ExerciseName[]): string =>
  exercises.map((one) => `“${exerciseNamed(one).title}”`).join(", ");

/** As it stands on screen, report and workbook. */
export function unprovenWords({ exercises, from, to }: UnprovenWork, name: string): string {
  const when = from === to ? `on ${from}` : `from ${from} to ${to}`;
  return `Practice: ${name} worked ${when} without the proof that is asked for (${titles(exercises)}).`;
}

/** As it stands where somebody is at work. */
export function missingProofWords(exercises: readonly ExerciseName[], name: string): string {
  return `Practice: ${name} has no proof that is asked for (${titles(exercises)}). What they enter is marked so on report and workbook.`;
}
