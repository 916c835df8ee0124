import type { Page } from "@playwright/test";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { countField } from "#core/practice/exercises/count-field.ts";
import type { View } from "#core/practice/view/render-view.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { EXERCISES, type ExerciseName } from "#core/vocabulary/practice.ts";
import type { Ask } from "./picture-places.ts";

const SEED = 5113;
/** Whose first specimen is a spore. */
const SEED_OF_MEASURE = 5115;

const seedOf = (name: ExerciseName): number => (name === "measure" ? SEED_OF_MEASURE : SEED);
const viewOf = (name: ExerciseName): View =>
  memberAt(exerciseNamed(name).task(seedOf(name), 1).looks, 0).view;

async function pressed(page: Page, key: string, times: number): Promise<void> {
  for (let time = 0; time < times; time += 1) await page.keyboard.press(key);
}

const straighten = (page: Page, turnedDeg: number): Promise<void> =>
  pressed(page, turnedDeg > 0 ? "End" : "Home", Math.round(Math.abs(turnedDeg) * 10));

/** As somebody has done half of it: the slide straight, objects counted up to the middle. */
const ACTS: Readonly<Partial<Record<ExerciseName, (page: Page) => Promise<void>>>> = {
  async "line-up"(page) {
    await straighten(page, viewOf("line-up").placing.turnedDeg);
  },
  async measure(page) {
    await pressed(page, "+", 2);
    const { placing, specimens = [] } = viewOf("measure");
    await straighten(page, specimens[0]?.turnedDeg ?? 0);
    // At 40× a key moves the slide and the focus by 0.35 µm.
    await pressed(page, placing.yUm > 0 ? "ArrowDown" : "ArrowUp", Math.round(Math.abs(placing.yUm) / 0.35));
    await pressed(page, "PageDown", Math.round(placing.outOfFocusUm / 0.35));
  },
  async count(page) {
    let at = 0;
    const objects = countField(SEED, 1).filter(({ counts }) => counts);
    for (const { kind, specimen } of objects.sort((a, b) => a.specimen.xUm - b.specimen.xUm)) {
      const steps = Math.round((specimen.xUm + 140) / 4);
      if (specimen.xUm > 20) return;
      await pressed(page, "ArrowRight", steps - at);
      await page.keyboard.press(kind);
      at = steps;
    }
  },
};

/** The first task of every exercise, as the person at the demo bench sees it. */
export const PRACTICE_PICTURES = EXERCISES.map((exercise) => ({
  name: `practice-${exercise}`,
  readme: "light" as const,
  location: async (ask: Ask) => {
    const begun = { requestId: crypto.randomUUID(), exercise, seed: seedOf(exercise) };
    const { id } = await ask("practice.begin", begun);
    return { screen: "practice", part: "exercises", attemptId: id };
  },
  act: async (page: Page) => {
    await ACTS[exercise]?.(page);
    await page.waitForTimeout(1500);
  },
  /** The exercise alone, without the window around it. */
  of: "main section:has(canvas)",
}));
