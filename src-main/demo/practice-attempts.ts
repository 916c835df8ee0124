import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import type { DemoEvent } from "./calibration-history.ts";
import type { DemoOperator } from "./demo-operator.ts";
import { ANSWERS, type Reader } from "./practice-readers.ts";
import { PEOPLE, type PersonKey } from "./registers.ts";
import { type Chance, seededChance } from "./seeded-chance.ts";
import type { DemoStage } from "./stage.ts";

const READERS: Readonly<Record<PersonKey, Reader>> = {
  maren: { bias: 0.01, scatter: 0.05, step: 0.1, errs: 0.03 },
  idris: { bias: 0.04, scatter: 0.08, step: 0.1, errs: 0.12 },
  tamsin: { bias: -0.02, scatter: 0.13, step: 0.5, errs: 0.3 },
};

/** Shared by those who read the same pictures. */
const SEED_OF_MORNING = 5_113;
const SEED_OF_CLASS = 2_046;
const CHANCE = 77_003;

/** What each member of the class has done in it; one of them has not come to the last exercises yet. */
const DONE: Readonly<Record<PersonKey, readonly ExerciseName[]>> = {
  maren: ["tenths", "line-up", "find-fault", "choose", "measure", "count"],
  idris: ["tenths", "line-up", "find-fault", "measure", "count"],
  tamsin: ["tenths", "line-up", "choose", "measure"],
};

/** The ruled slide of the class as it is, divisions of the reticle. */
const SLIDE = [
  { left: 12.4, right: 37.1 },
  { left: 8.2, right: 69.6 },
] as const;
const TIMES = 3;

interface Sitting {
  readonly operator: DemoOperator;
  readonly reader: Reader;
  readonly chance: Chance;
}

async function attempt({ operator, reader, chance }: Sitting, name: ExerciseName, seed: number) {
  const { tasks } = exerciseNamed(name);
  const begun = { requestId: operator.request(), exercise: name, seed };
  const { id } = await operator.act("practice.begin", begun, 5);
  for (let ordinal = 1; ordinal <= tasks; ordinal += 1) {
    const typed = ANSWERS[name](seed, ordinal, reader, chance);
    const answer = { requestId: operator.request(), attemptId: id, ordinal, typed };
    await operator.act("practice.answer", answer, Math.round(chance.between(3, 8)));
  }
}

/** Everybody's readings of the same real slide; the ends as each of them sees them. */
async function readSlide({ operator, reader, chance }: Sitting, classId: string): Promise<void> {
  const seen = (divisions: number): string =>
    (divisions + reader.bias + reader.scatter * chance.normal()).toFixed(1);
  for (let repeat = 1; repeat <= TIMES; repeat += 1) {
    for (const [index, { left, right }] of SLIDE.entries()) {
      await operator.act(
        "practice.readSlide",
        {
          requestId: operator.request(),
          classId,
          interval: index + 1,
          repeat,
          left: seen(left),
          right: seen(right),
        },
        15,
      );
    }
  }
}

async function classOfOneDay(operator: DemoOperator, { people }: DemoStage): Promise<void> {
  const chance = seededChance(CHANCE);
  await operator.sit(people.maren);
  const { id } = await operator.act(
    "practice.makeClass",
    {
      requestId: operator.request(),
      name: "Newcomers' day (invented)",
      names: Object.values(PEOPLE).map(({ name }) => name),
      seed: SEED_OF_CLASS,
      slide: "ruled teaching slide, invented",
      intervals: SLIDE.length,
      repeats: TIMES,
    },
    120,
  );
  for (const key of Object.keys(DONE) as PersonKey[]) {
    await operator.sit(people[key]);
    const sitting = { operator, reader: READERS[key], chance };
    for (const name of DONE[key]) await attempt(sitting, name, SEED_OF_CLASS);
    await readSlide(sitting, id);
  }
}

/** Two people at the drawn eyepiece one morning, and a class of all three yesterday; invented. */
export function practiceEvents(): DemoEvent[] {
  const morning = (["maren", "tamsin"] as const).map(
    (key, index): DemoEvent => ({
      daysAgo: 20,
      time: `08:${30 + 10 * index}`,
      async run(operator, stage) {
        await operator.sit(stage.people[key]);
        const sitting = { operator, reader: READERS[key], chance: operator.chance };
        await attempt(sitting, "tenths", SEED_OF_MORNING);
      },
    }),
  );
  // After everything else, so that it changes nothing of the rest of the scenario.
  return [...morning, { daysAgo: 1, time: "13:00", run: classOfOneDay }];
}
