import { beforeEach, describe, expect, it, vi } from "vitest";
import { USUAL_SETTINGS } from "#core/contract/records/own-settings.ts";
import { Sound } from "#renderer/sound/sound.ts";
import { categoryTone, pulsesOfTone } from "#renderer/sound/tones.ts";

/** Settings that a test changes, as a person does. */
function settings() {
  let present = USUAL_SETTINGS.sound;
  return {
    read: () => present,
    change: (part: Partial<typeof present>) => {
      present = { ...present, ...part };
    },
  };
}

/** Stands in for the sound of a machine and writes down what it was asked to play. */
function recordingContext() {
  const played: { pitch: number; from: number; to: number }[] = [];
  const gain = { setValueAtTime: vi.fn(), linearRampToValueAtTime: vi.fn() };
  const context = {
    state: "running",
    currentTime: 2,
    destination: {},
    createGain: () => ({ gain, connect: () => undefined }),
    createOscillator: () => {
      const one = { pitch: 0, from: 0, to: 0 };
      played.push(one);
      return {
        frequency: {
          set value(pitch: number) {
            one.pitch = pitch;
          },
        },
        connect: (next: unknown) => next,
        start: (at: number) => {
          one.from = at;
        },
        stop: (at: number) => {
          one.to = at;
        },
      };
    },
  };
  return { context: context as unknown as AudioContext, played };
}

class Words {
  lang = "";
  volume = 1;
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

beforeEach(() => {
  vi.stubGlobal("SpeechSynthesisUtterance", Words);
});

describe("tones", () => {
  it("sixty categories sound unlike each other, and neighbours differ in pitch and in rhythm", () => {
    const all = Array.from({ length: 60 }, (_, place) => pulsesOfTone(categoryTone(place)));
    expect(new Set(all.map((pulses) => JSON.stringify(pulses))).size).toBe(60);
    all.slice(1).forEach((pulses, at) => {
      const before = all[at] ?? [];
      expect(pulses[0]?.pitch).not.toBeCloseTo(before[0]?.pitch ?? 0, 0);
      const rhythm = (one: typeof pulses) => one.map(({ at: from, length }) => [from, length]);
      expect(rhythm(pulses)).not.toEqual(rhythm(before));
    });
  });

  it("are over before the next finger is down", () => {
    for (let place = 0; place < 60; place += 1) {
      const last = pulsesOfTone(categoryTone(place)).at(-1);
      expect((last?.at ?? 0) + (last?.length ?? 0)).toBeLessThanOrEqual(130);
    }
  });

  it("are played as written, and not at all when muted", () => {
    const { context, played } = recordingContext();
    const own = settings();
    const sound = new Sound({ newContext: () => context, voice: null }, own.read);
    sound.playTone("field");
    expect(played).toEqual(
      pulsesOfTone("field").map(({ pitch, at, length }) => ({
        pitch,
        from: 2 + at / 1000,
        to: 2 + at / 1000 + length / 1000,
      })),
    );
    own.change({ muted: true });
    sound.playTone("field");
    expect(played).toHaveLength(2);
  });

  it("a machine without sound stays silent and goes on", () => {
    const broken = () => {
      throw new Error("no device");
    };
    const own = settings();
    const sound = new Sound({ newContext: broken, voice: null }, own.read);
    expect(() => {
      sound.playTone("taken");
      sound.speak("5");
    }).not.toThrow();
    expect(sound.canSpeak()).toBe(false);
  });
});

describe("voice", () => {
  it("speaks the newest number only, where there is a voice and speech is wanted", () => {
    const said: string[] = [];
    const cancel = vi.fn();
    const voice = {
      getVoices: () => [{}],
      cancel,
      speak: ({ text }: Words) => said.push(text),
    } as unknown as SpeechSynthesis;
    const own = settings();
    const sound = new Sound({ newContext: null, voice }, own.read);
    sound.speak("50");
    own.change({ speech: false });
    sound.speak("100");
    own.change({ speech: true, muted: true });
    sound.speak("150");
    expect(said).toEqual(["50"]);
    expect(cancel).toHaveBeenCalled();
  });
});
