import type { TypedSetting } from "#core/contract/records/calibration.ts";

/** The cells of one setting, in the order they are read. */
export const SETTING_KEYS = ["reticleLeft", "reticleRight", "lineLeft", "lineRight"] as const;
export type SettingKey = (typeof SETTING_KEYS)[number];

export interface SettingPlace {
  readonly row: number;
  readonly key: SettingKey;
}

export const BLANK_SETTING: TypedSetting = { reticleLeft: "", reticleRight: "", lineLeft: "", lineRight: "" };
/** As many as the contract takes. */
const MOST_SETTINGS = 200;

export function isBlankSetting(setting: TypedSetting): boolean {
  return SETTING_KEYS.every((key) => setting[key].trim() === "");
}

/** The rows with one blank row behind the last that holds anything. */
export function withBlankEnd(rows: readonly TypedSetting[]): readonly TypedSetting[] {
  const kept = withoutBlankEnd(rows);
  return kept.length < MOST_SETTINGS ? [...kept, BLANK_SETTING] : kept;
}

/** What is sent: the rows up to the last that holds anything. Blank rows between are kept in their places. */
export function withoutBlankEnd(rows: readonly TypedSetting[]): readonly TypedSetting[] {
  const last = rows.findLastIndex((row) => !isBlankSetting(row));
  return rows.slice(0, last + 1);
}

export function withText(
  rows: readonly TypedSetting[],
  { row, key }: SettingPlace,
  text: string,
): readonly TypedSetting[] {
  return withBlankEnd(rows.map((setting, at) => (at === row ? { ...setting, [key]: text } : setting)));
}
