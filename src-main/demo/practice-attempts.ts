import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { reticleReading } from "#core/practice/view/scene.ts";
import { memberAt } from "#core/statistics/sample.ts";
import type { DemoEvent } from "./calibration-history.ts";
import type { DemoOperator } from "./demo-operator.ts";
import type { PersonKey } from "./registers.ts";

/** How an invented reader reads: divisions. */
interface Reader {
  readonly person: PersonKey;
  readonly daysAgo: number;
  readonly seed: number;
  readonly bias: number;
  readonly scatter: number;
  /** Reads to this part of a division: 0.1, or 0.5 of one who sees halves. */
  readonly step: number;
}

/** The class of one morning read the same lines. */
const READERS: readonly Reader[] = [
  { person: "maren", daysAgo: 20, seed: 5_113, bias: 0.01, scatter: 0.05, step: 0.1 },
  { person: "tamsin", daysAgo: 20, seed: 5_113, bias: -0.02, scatter: 0.13, step: 0.5 },
];

async function readTenths(operator: DemoOperator, { seed, bias, scatter, step }: Reader): Promise<void> {
  const exercise = exerciseNamed("tenths");
  const attempt = await operator.act(
    "practice.begin",
    { requestId: operator.request(), exercise: exercise.name, seed },
    5,
  );
  for (let ordinal = 1; ordinal <= exercise.tasks; ordinal += 1) {
    const { optics, placing } = memberAt(exercise.task(seed, ordinal).looks, 0).view;
    const seen = reticleReading(optics, placing.xUm) + bias + scatter * operator.chance.normal();
    await operator.act(
      "practice.answer",
      {
        requestId: operator.request(),
        attemptId: attempt.id,
        ordinal,
        typed: { reading: (Math.round(seen / step) * step).toFixed(1) },
      },
      Math.round(operator.chance.between(3, 8)),
    );
  }
}

/** Two people at the drawn eyepiece; invented. */
export function practiceEvents(): DemoEvent[] {
  return READERS.map((reader, index) => ({
    daysAgo: reader.daysAgo,
    time: `08:${30 + 10 * index}`,
    async run(operator, stage) {
      await operator.sit(stage.people[reader.person]);
      await readTenths(operator, reader);
    },
  }));
}
