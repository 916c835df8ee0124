import type { SoundSettings } from "#core/contract/records/own-settings.ts";
import { changeOwnSettings, ownSettings, useOwnSettings } from "../window/own-settings.ts";
import { Sound } from "./sound.ts";

const sound = new Sound(
  {
    newContext:
      typeof AudioContext === "undefined" ? null : () => new AudioContext({ latencyHint: "interactive" }),
    voice: typeof speechSynthesis === "undefined" ? null : speechSynthesis,
  },
  soundSettings,
);

/** The sound of this window: `playTone("taken")`, `speak("50")`. Screens share it, and its settings. */
export const { playTone, speak, canSpeak, wake: wakeSound } = sound;

export function changeSound(part: Partial<SoundSettings>): void {
  changeOwnSettings({ sound: { ...soundSettings(), ...part } });
  if (soundSettings().muted) sound.hush();
}

export function soundSettings(): SoundSettings {
  return ownSettings().sound;
}

/** The settings, drawn again when they change. */
export function useSoundSettings(): SoundSettings {
  return useOwnSettings().sound;
}
