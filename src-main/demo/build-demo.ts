import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { assemble } from "../assemble.ts";
import { systemClock } from "../ports/clock.ts";
import type { BenchPaths } from "../ports/paths.ts";
import { calibrationEvents, type DemoEvent } from "./calibration-history.ts";
import { demoClock } from "./demo-clock.ts";
import { createDemoOperator } from "./demo-operator.ts";
import { countEvents } from "./honey-count.ts";
import { sheetEvents } from "./measure-sheets.ts";
import { practiceEvents } from "./practice-attempts.ts";
import { seededChance } from "./seeded-chance.ts";
import { registerStage } from "./stage.ts";
import { HISTORY_DAYS } from "./true-factors.ts";

const SEED = 20_481;

export interface DemoOptions {
  /** The date the history leads up to, ISO 8601; today by default, so that the bench never looks stale. */
  readonly today?: string;
  readonly seed?: number;
}

function inOrder(events: readonly DemoEvent[]): DemoEvent[] {
  return [...events].sort((a, b) => b.daysAgo - a.daysAgo || (a.time < b.time ? -1 : 1));
}

/**
 * Builds the invented 'Hollin Moor pollen bench' in an empty folder: two stands, six objectives, four reticles, three
 * stage micrometers, three people, eighteen months of calibrations, seven sheets, one count of 500 grains, and practice: a
 * morning's and a class of all three with its results and readings of a slide. One certificate was replaced by a corrected one; a sheet measured before that still rests on it. Every act goes through the
 * same calls as a window's, at the time it is meant to have happened, so that all results and the trail verify.
 * @throws BenchUnopenable when the folder cannot take a bench; Error when the bench refuses a step of the scenario
 */
export async function buildDemoBench(paths: BenchPaths, options: DemoOptions = {}): Promise<void> {
  const clock = demoClock(options.today ?? systemClock.today());
  const chance = seededChance(options.seed ?? SEED);
  clock.setDaysAgo(HISTORY_DAYS, "08:00");
  // The history runs through in seconds; copies made on the way would carry dates they do not deserve.
  const passingCopies = await mkdtemp(join(tmpdir(), "linefall-demo-copies-"));
  const program = await assemble({
    paths: { ...paths, backupFolder: passingCopies },
    clock,
    ids: { next: () => chance.id() },
    host: "loopback",
    programVersion: "demonstration",
    demo: true,
  });
  try {
    const operator = createDemoOperator(program, clock, chance);
    const stage = await registerStage(operator);
    for (const event of inOrder([
      ...calibrationEvents(),
      ...sheetEvents(),
      ...countEvents(),
      ...practiceEvents(),
    ])) {
      clock.setDaysAgo(event.daysAgo, event.time);
      await event.run(operator, stage);
    }
    await operator.sit(stage.people.maren);
  } finally {
    await program.close();
    await rm(passingCopies, { recursive: true, force: true });
  }
}
