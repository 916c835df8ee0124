export const THEMES = ["dim", "light"] as const;
export type Theme = (typeof THEMES)[number];

const KEY = "linefall.theme";

/** The theme chosen last on this machine; dim at first, because the room is. */
export function rememberedTheme(storage: Storage): Theme {
  return storage.getItem(KEY) === "light" ? "light" : "dim";
}

/** Shows a theme and remembers it. */
export function showTheme(theme: Theme, root: HTMLElement, storage: Storage): void {
  root.dataset.theme = theme;
  storage.setItem(KEY, theme);
}
