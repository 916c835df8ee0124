import type { Page } from "@playwright/test";
import { trueReadings } from "../support/practice-reader.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";

/** A seed of Read tenths. */
export const SEED = 5113;

/**
 * Forty readings of the person at the bench, each off by as much as told, div.
 * @returns the id of the attempt
 */
export async function readTenths(page: Page, off: (index: number) => number = () => 0): Promise<string> {
  const { id } = await callFrom(page, "practice.begin", {
    requestId: newRequest(),
    exercise: "tenths",
    seed: SEED,
  });
  for (const [index, truth] of trueReadings(SEED).entries()) {
    await callFrom(page, "practice.answer", {
      requestId: newRequest(),
      attemptId: id,
      ordinal: index + 1,
      typed: { reading: Math.min(100, truth + off(index)).toFixed(1) },
    });
  }
  return id;
}
