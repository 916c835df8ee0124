import { Button } from "../parts/Button.tsx";
import styles from "./SoundSettingsForm.module.css";
import type { ToneName } from "./tones.ts";
import { canSpeak, changeSound, playTone, speak, useSoundSettings } from "./window-sound.ts";

const MARKS = [0, 10, 25, 50, 100, 200] as const;

/** Loudness, mute and voice of this machine; each change holds at once and for all screens. */
export function SoundSettingsForm({ tryTone }: { tryTone: ToneName }) {
  const { muted, volume, speech, spokenEvery } = useSoundSettings();
  return (
    <div className={styles.settings}>
      <label>
        <input
          type="checkbox"
          checked={!muted}
          onChange={(event) => changeSound({ muted: !event.target.checked })}
        />
        sound
      </label>
      <label>
        loudness
        <input
          type="range"
          min={0}
          max={100}
          step={5}
          value={Math.round(volume * 100)}
          onChange={(event) => changeSound({ volume: Number(event.target.value) / 100 })}
        />
      </label>
      <label>
        <input
          type="checkbox"
          checked={speech}
          onChange={(event) => changeSound({ speech: event.target.checked })}
        />
        spoken numbers
      </label>
      <label>
        total spoken
        <select
          value={spokenEvery}
          onChange={(event) => changeSound({ spokenEvery: Number(event.target.value) })}
        >
          {MARKS.map((mark) => (
            <option key={mark} value={mark}>
              {mark === 0 ? "never" : `every ${mark} objects`}
            </option>
          ))}
        </select>
      </label>
      <Button
        look="quiet"
        onClick={() => {
          playTone(tryTone);
          speak("one hundred");
        }}
      >
        Try it
      </Button>
      {canSpeak() ? null : (
        <p className={styles.note}>This machine offers no voice; tones work without one.</p>
      )}
    </div>
  );
}
