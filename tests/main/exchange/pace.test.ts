import { expect, it } from "vitest";
import { type Pace, paced, untold } from "#main/pace/pace.ts";

function recording(): { pace: Pace; told: number[]; stop: () => void } {
  const controller = new AbortController();
  const told: number[] = [];
  const pace = { signal: controller.signal, wrote: (rows: number) => void told.push(rows) };
  return { pace, told, stop: () => controller.abort() };
}

const numbers = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

it("hands over every piece in order and tells of each of them once", async () => {
  const { pace, told } = recording();
  const seen: number[] = [];
  for await (const piece of paced(numbers(250), pace)) seen.push(piece);
  expect(seen).toEqual(numbers(250));
  expect(told).toEqual([100, 100, 50]);
});

it("stops at the piece at which it is asked to", async () => {
  const { pace, stop } = recording();
  let seen = 0;
  const walk = async (): Promise<void> => {
    for await (const _ of paced(numbers(250), pace)) {
      seen += 1;
      if (seen === 120) stop();
    }
  };
  await expect(walk()).rejects.toThrow();
  expect(seen).toBe(120);
});

it("tells nothing of work that is no row of the file yet, and still stops", async () => {
  const { pace, told, stop } = recording();
  for await (const _ of paced(numbers(250), untold(pace)));
  expect(told).toEqual([]);
  stop();
  const walk = async (): Promise<void> => {
    for await (const _ of paced(numbers(2), untold(pace)));
  };
  await expect(walk()).rejects.toThrow();
});
