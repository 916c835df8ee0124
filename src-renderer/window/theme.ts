import { THEMES, type Theme } from "#core/contract/records/own-settings.ts";
import { rememberedTexts, rememberText, type WindowMemory } from "./window-memory.ts";

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
  if (root.dataset.theme === theme && rememberedTheme(memory) === theme) return;
  root.dataset.theme = theme;
  rememberText(KEY, theme, memory);
}
