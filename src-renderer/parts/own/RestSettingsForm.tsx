import { changeOwnSettings, useOwnSettings } from "../../window/own-settings.ts";
import styles from "./RestSettingsForm.module.css";

/** Offered to choose from. */
const REST_MINUTES = [10, 15, 20, 30, 45, 60] as const;

/** Whether and when the eyes are reminded to rest; each change holds at once. */
export function RestSettingsForm() {
  const { rest } = useOwnSettings();
  return (
    <>
      <label className={styles.choice}>
        <input
          type="checkbox"
          checked={rest.on}
          onChange={(event) => changeOwnSettings({ rest: { ...rest, on: event.target.checked } })}
        />
        remind me after
        <select
          aria-label="Minutes of work before the reminder"
          disabled={!rest.on}
          value={rest.minutes}
          onChange={(event) => changeOwnSettings({ rest: { ...rest, minutes: Number(event.target.value) } })}
        >
          {REST_MINUTES.map((minutes) => (
            <option key={minutes} value={minutes}>
              {minutes} minutes
            </option>
          ))}
        </select>
      </label>
      <p className={styles.hint}>
        Of work without a pause of three minutes. It never takes the keyboard and makes no sound.
      </p>
    </>
  );
}
