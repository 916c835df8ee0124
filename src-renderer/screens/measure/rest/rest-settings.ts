import { z } from "zod";
import { rememberedTexts, rememberText, type WindowMemory } from "../../../window/window-memory.ts";

/** When a person is reminded to rest the eyes, at this machine. */
export const RestSettings = z.strictObject({
  on: z.boolean(),
  /** Minutes of work without a rest. */
  minutes: z.int().min(5).max(120),
});
export type RestSettings = z.infer<typeof RestSettings>;

/** Twenty minutes, then some seconds of looking far away: common practice, no source. */
export const USUAL_REST: RestSettings = { on: true, minutes: 20 };

/** Offered to choose from. */
export const REST_MINUTES = [10, 15, 20, 30, 45, 60] as const;

const KEY = "linefall.rest";

export function rememberedRest(memory: WindowMemory): RestSettings {
  for (const text of rememberedTexts(KEY, memory)) {
    try {
      return RestSettings.parse(JSON.parse(text));
    } catch {
      // Written by another version, or by nobody: the next one.
    }
  }
  return USUAL_REST;
}

export function rememberRest(settings: RestSettings, memory: WindowMemory): void {
  rememberText(KEY, JSON.stringify(settings), memory);
}
