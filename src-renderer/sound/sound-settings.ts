import { z } from "zod";

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

/** What a window remembers by; see the theme: the loopback host has another port, so another storage, at every start. */
export interface SoundMemory {
  readonly storage: Pick<Storage, "getItem" | "setItem">;
  readonly page: { cookie: string };
}

const KEY = "linefall.sound";
const YEAR_IN_SECONDS = 31_536_000;

function readSettings(text: string | null | undefined): SoundSettings | null {
  try {
    return SoundSettings.parse(JSON.parse(text ?? ""));
  } catch {
    return null;
  }
}

/** The settings chosen last on this machine. */
export function rememberedSound({ storage, page }: SoundMemory): SoundSettings {
  const cookie = page.cookie
    .split("; ")
    .find((one) => one.startsWith(`${KEY}=`))
    ?.slice(KEY.length + 1);
  return (
    readSettings(cookie && decodeURIComponent(cookie)) ?? readSettings(storage.getItem(KEY)) ?? USUAL_SOUND
  );
}

export function rememberSound(settings: SoundSettings, { storage, page }: SoundMemory): void {
  const text = JSON.stringify(settings);
  storage.setItem(KEY, text);
  page.cookie = `${KEY}=${encodeURIComponent(text)}; path=/; max-age=${YEAR_IN_SECONDS}; samesite=strict`;
}
