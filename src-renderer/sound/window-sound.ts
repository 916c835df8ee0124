import { useSyncExternalStore } from "react";
import { Sound } from "./sound.ts";
import type { SoundSettings } from "./sound-settings.ts";

const sound = new Sound(
  {
    newContext:
      typeof AudioContext === "undefined" ? null : () => new AudioContext({ latencyHint: "interactive" }),
    voice: typeof speechSynthesis === "undefined" ? null : speechSynthesis,
  },
  { storage: localStorage, page: document },
);

/** The sound of this window: `playTone("taken")`, `speak("50")`. Screens share it, and its settings. */
export const { playTone, speak, canSpeak, wake: wakeSound } = sound;

export function changeSound(part: Partial<SoundSettings>): void {
  sound.change(part);
}

export function soundSettings(): SoundSettings {
  return sound.settings();
}

/** The settings, drawn again when they change. */
export function useSoundSettings(): SoundSettings {
  return useSyncExternalStore(sound.subscribe, sound.settings);
}
