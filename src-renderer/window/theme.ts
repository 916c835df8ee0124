import { rememberedTexts, rememberText, type WindowMemory } from "./window-memory.ts";

export const THEMES = ["dim", "light"] as const;
export type Theme = (typeof THEMES)[number];

const KEY = "linefall.theme";

function themeIn(text: string): Theme | undefined {
  return THEMES.find((theme) => theme === text);
}

/** The theme chosen last on this machine; dim at first, because the room is. */
export function rememberedTheme(memory: WindowMemory): Theme {
  for (const text of rememberedTexts(KEY, memory)) {
    const theme = themeIn(text);
    if (theme) return theme;
  }
  return "dim";
}

/** Shows a theme and remembers it. */
export function showTheme(theme: Theme, root: HTMLElement, memory: WindowMemory): void {
  root.dataset.theme = theme;
  rememberText(KEY, theme, memory);
}
