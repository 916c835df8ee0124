import { expect, it } from "vitest";
import { type Progress, silently, withProgress } from "#main/long-work/progress.ts";

function recording(): { progress: Progress; told: number[]; stop: () => void } {
  const controller = new AbortController();
  const told: number[] = [];
  const progress = { signal: controller.signal, advance: (rows: number) => void told.push(rows) };
  return { progress, told, stop: () => controller.abort() };
}

const numbers = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

it("hands over every piece in order and tells of each of them once", async () => {
  const { progress, told } = recording();
  const seen: number[] = [];
  for await (const piece of withProgress(numbers(250), progress)) seen.push(piece);
  expect(seen).toEqual(numbers(250));
  expect(told).toEqual([100, 100, 50]);
});

it("stops at the piece at which it is asked to", async () => {
  const { progress, stop } = recording();
  let seen = 0;
  const walk = async (): Promise<void> => {
    for await (const _ of withProgress(numbers(250), progress)) {
      seen += 1;
      if (seen === 120) stop();
    }
  };
  await expect(walk()).rejects.toThrow();
  expect(seen).toBe(120);
});

it("tells nothing of work that is no row of the file yet, and still stops", async () => {
  const { progress, told, stop } = recording();
  for await (const _ of withProgress(numbers(250), silently(progress)));
  expect(told).toEqual([]);
  stop();
  const walk = async (): Promise<void> => {
    for await (const _ of withProgress(numbers(2), silently(progress)));
  };
  await expect(walk()).rejects.toThrow();
});
