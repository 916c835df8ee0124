import { changeOwnSettings, useOwnSettings } from "./own-settings.ts";

/** What a person folds away to see more rows. */
export type ViewChoice = "compact" | "foldedHead" | "narrowRail";

/** Whether something is chosen, drawn again when that changes, and the way to turn it over. */
export function useViewChoice(choice: ViewChoice): readonly [boolean, () => void] {
  const isOn = useOwnSettings()[choice];
  return [isOn, () => changeOwnSettings({ [choice]: !isOn })];
}
