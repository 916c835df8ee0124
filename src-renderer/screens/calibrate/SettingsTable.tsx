import { Fragment, type KeyboardEvent, useEffect, useRef, useState } from "react";
import type { TypedSetting } from "#core/contract/records/calibration.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { formatToPlaces, roundToSignificant } from "#core/quantity/rounding.ts";
import { keyFacts, NUMLOCK_OFF } from "../../grid/key-facts.ts";
import { useOwnNotation } from "../../parts/form/use-own-notation.ts";
import { Notice } from "../../parts/Notice.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationPreview } from "./calibration-preview.ts";
import { answerSettingsKey } from "./settings-keys.ts";
import { SETTING_KEYS, type SettingKey, type SettingPlace, withText } from "./settings-rows.ts";

const TITLES: Readonly<Record<SettingKey, string>> = {
  reticleLeft: "reticle left",
  reticleRight: "reticle right",
  lineLeft: "line left",
  lineRight: "line right",
};

export interface SettingsTableProps {
  readonly settings: readonly TypedSetting[];
  readonly preview: CalibrationPreview;
  readonly readOnly: boolean;
  readonly onChange: (settings: readonly TypedSetting[]) => void;
  /** The row the person is at. */
  readonly onRow: (row: number) => void;
}

const cellId = ({ row, key }: SettingPlace): string => `setting-${row}-${key}`;

/** The settings as typed, four readings each, with what every one of them comes to. */
export function SettingsTable({ settings, preview, readOnly, onChange, onRow }: SettingsTableProps) {
  const [numLockOff, setNumLockOff] = useState(0);
  const table = useRef<HTMLTableElement>(null);
  useEffect(() => {
    if (!readOnly) focusFirstEmpty(table.current);
  }, [readOnly]);

  const press = (event: KeyboardEvent<HTMLInputElement>, place: SettingPlace): void => {
    const answer = answerSettingsKey(keyFacts(event.nativeEvent), {
      ...place,
      text: event.currentTarget.value,
      rows: settings.length,
    });
    if (!answer) {
      setNumLockOff(0);
      return;
    }
    event.preventDefault();
    if ("go" in answer) document.getElementById(cellId(answer.go))?.focus();
    else if (answer.say === "numLockOff") setNumLockOff(numLockOff + 1);
  };

  return (
    <>
      <table className={styles.settings} ref={table}>
        <caption className={styles.hidden}>Settings</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className={styles.hidden}>Setting</span>
            </th>
            {SETTING_KEYS.map((key) => (
              <th key={key} scope="col">
                {TITLES[key]}
              </th>
            ))}
            <th scope="col">length, µm</th>
            <th scope="col">div</th>
            <th scope="col">µm/div</th>
            <th scope="col">residual, div</th>
          </tr>
        </thead>
        <tbody>
          {settings.map((setting, row) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a setting is known by its place
            <Fragment key={row}>
              <tr>
                <th scope="row">{row + 1}</th>
                {SETTING_KEYS.map((key) => (
                  <Cell
                    key={key}
                    place={{ row, key }}
                    text={setting[key]}
                    problem={preview.problems[`settings.${row}.${key}`]}
                    readOnly={readOnly}
                    onText={(text) => onChange(withText(settings, { row, key }, text))}
                    onKey={(event) => press(event, { row, key })}
                    onFocus={() => onRow(row)}
                  />
                ))}
                <Derived of={preview.rows[row]} />
              </tr>
              <Problems row={row} preview={preview} />
            </Fragment>
          ))}
        </tbody>
      </table>
      {numLockOff > 0 ? <Notice key={numLockOff} kind="care" live title={NUMLOCK_OFF} /> : null}
    </>
  );
}

function focusFirstEmpty(table: HTMLTableElement | null): void {
  const inputs = [...(table?.querySelectorAll("input") ?? [])];
  (inputs.find((input) => input.value === "") ?? inputs[0])?.focus();
}

/** What is wrong with the cells of a row, on a line of its own under them. */
function Problems({ row, preview }: { row: number; preview: CalibrationPreview }) {
  const problems = SETTING_KEYS.flatMap((key) => {
    const reason = preview.problems[`settings.${row}.${key}`];
    return reason ? [{ key, reason }] : [];
  });
  if (problems.length === 0) return null;
  return (
    <tr>
      <td />
      <td colSpan={8} className={styles.problems}>
        {problems.map(({ key, reason }) => (
          <p key={key} id={`${cellId({ row, key })}-problem`} className={styles.cellProblem}>
            {TITLES[key]} {reason}
          </p>
        ))}
      </td>
    </tr>
  );
}

interface CellProps {
  readonly place: SettingPlace;
  readonly text: string;
  readonly problem: string | undefined;
  readonly readOnly: boolean;
  readonly onText: (text: string) => void;
  readonly onKey: (event: KeyboardEvent<HTMLInputElement>) => void;
  readonly onFocus: () => void;
}

function Cell({ place, text, problem, readOnly, onText, onKey, onFocus }: CellProps) {
  const id = cellId(place);
  const { value, onChange } = useOwnNotation("number", { value: text, onChange: onText });
  return (
    <td>
      <input
        id={id}
        value={value}
        readOnly={readOnly}
        aria-label={`Setting ${place.row + 1}, ${TITLES[place.key]}`}
        aria-invalid={problem ? true : undefined}
        aria-describedby={problem ? `${id}-problem` : undefined}
        autoComplete="off"
        spellCheck={false}
        inputMode="decimal"
        className={styles.cell}
        onChange={(event) => onChange(event.target.value)}
        onKeyDown={onKey}
        onFocus={(event) => {
          event.currentTarget.select();
          onFocus();
        }}
      />
    </td>
  );
}

function Derived({ of }: { of: CalibrationPreview["rows"][number] | undefined }) {
  if (!of) return <td className={styles.derived} colSpan={4} />;
  return (
    <>
      <td className={styles.derived}>{formatToPlaces(of.interval.length, 2)}</td>
      <td className={styles.derived}>{of.divisions.toFixed()}</td>
      <td className={styles.derived}>{roundToSignificant(of.ratio, 6).toFixed()}</td>
      <td className={styles.derived}>{trueMinus(formatToPlaces(of.residual, 3))}</td>
    </>
  );
}
