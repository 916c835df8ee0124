import { describe, expect, it } from "vitest";
import { ALL_EXERCISES, exerciseOf } from "#core/practice/exercises/all-exercises.ts";

describe.each(ALL_EXERCISES)("the exercise $name", (exercise) => {
  it("shows something at every task, the same for the same seed, and asks for parts that differ", () => {
    for (let ordinal = 1; ordinal <= exercise.tasks; ordinal += 1) {
      const task = exercise.task(11, ordinal);
      expect(task.looks.length).toBeGreaterThan(0);
      expect(exercise.task(11, ordinal)).toEqual(task);
      expect(exercise.task(12, ordinal)).not.toEqual(task);
    }
    const names = exercise.fields.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  });

  it("is found by its version, and no other version is made up", () => {
    const { name, version } = exercise;
    expect(exerciseOf({ exercise: name, version })).toBe(exercise);
    expect(() => exerciseOf({ exercise: name, version: version + 1 })).toThrow("no version");
  });
});
