import type { SoundSettings } from "#core/contract/records/own-settings.ts";
import { pulsesOfTone, type ToneName } from "./tones.ts";

/** The parts of a window that make sound; a machine may lack each of them. */
export interface SoundMakers {
  readonly newContext: (() => AudioContext) | null;
  readonly voice: SpeechSynthesis | null;
}

/** Rise and fall of a pulse, ms: without them every pulse clicks. */
const EDGE_MS = 4;

/** Tones and spoken numbers. Nothing depends on them: without sound every method does nothing. */
export class Sound {
  readonly #makers: SoundMakers;
  readonly #settings: () => SoundSettings;
  #context: AudioContext | null = null;

  constructor(makers: SoundMakers, settings: () => SoundSettings) {
    this.#makers = makers;
    this.#settings = settings;
  }

  /** Cuts off what is being spoken. */
  readonly hush = (): void => this.#makers.voice?.cancel();

  /** Plays a tone at once, over whatever still sounds. To be called while a key is handled: windows are silent before. */
  readonly playTone = (name: ToneName): void => {
    const { muted, volume } = this.#settings();
    const context = muted || volume === 0 ? null : this.#awake();
    if (!context) return;
    const start = context.currentTime;
    for (const { pitch, at, length } of pulsesOfTone(name)) {
      const from = start + at / 1000;
      const to = from + length / 1000;
      const edge = EDGE_MS / 1000;
      const tone = context.createOscillator();
      const loudness = context.createGain();
      tone.frequency.value = pitch;
      loudness.gain.setValueAtTime(0, from);
      loudness.gain.linearRampToValueAtTime(volume, from + edge);
      loudness.gain.setValueAtTime(volume, to - edge);
      loudness.gain.linearRampToValueAtTime(0, to);
      tone.connect(loudness).connect(context.destination);
      tone.start(from);
      tone.stop(to);
    }
  };

  /** Speaks a short text; what is still being spoken is cut off, because the newest number is the one wanted. */
  readonly speak = (text: string): void => {
    const { voice } = this.#makers;
    const { muted, volume, speech } = this.#settings();
    if (!voice || muted || !speech || volume === 0 || voice.getVoices().length === 0) return;
    voice.cancel();
    const words = new SpeechSynthesisUtterance(text);
    words.lang = "en-GB";
    words.volume = volume;
    voice.speak(words);
  };

  /** Gets the sound of the machine ready, which takes a while, so that the first tone is not late. */
  readonly wake = (): void => {
    if (!this.#settings().muted) this.#awake();
  };

  /** True when this machine has a voice. */
  readonly canSpeak = (): boolean => (this.#makers.voice?.getVoices().length ?? 0) > 0;

  #awake(): AudioContext | null {
    const { newContext } = this.#makers;
    if (!newContext) return null;
    try {
      this.#context ??= newContext();
      if (this.#context.state === "suspended") void this.#context.resume().catch(() => undefined);
      return this.#context;
    } catch {
      // No sound device: the count goes on without tones.
      return null;
    }
  }
}
