import { z } from "zod";
import { rememberedTexts, rememberText, type WindowMemory } from "../window/window-memory.ts";

/** What a person hears, at this machine. */
export const SoundSettings = z.strictObject({
  muted: z.boolean(),
  /** Loudness of tones and voice, 0…1. */
  volume: z.number().min(0).max(1),
  /** Numbers are spoken where the machine has a voice. */
  speech: z.boolean(),
  /** A total is spoken every so many objects; 0: never. */
  spokenEvery: z.int().min(0).max(10_000),
});
export type SoundSettings = z.infer<typeof SoundSettings>;

export const USUAL_SOUND: SoundSettings = { muted: false, volume: 0.5, speech: true, spokenEvery: 50 };

const KEY = "linefall.sound";
function readSettings(text: string): SoundSettings | null {
  try {
    return SoundSettings.parse(JSON.parse(text));
  } catch {
    return null;
  }
}

/** The settings chosen last on this machine. */
export function rememberedSound(memory: WindowMemory): SoundSettings {
  for (const text of rememberedTexts(KEY, memory)) {
    const settings = readSettings(text);
    if (settings) return settings;
  }
  return USUAL_SOUND;
}

export function rememberSound(settings: SoundSettings, memory: WindowMemory): void {
  rememberText(KEY, JSON.stringify(settings), memory);
}
