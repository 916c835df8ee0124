import type { OwnSettings } from "#core/contract/records/own-settings.ts";
import { giveKeys } from "./keymap.ts";
import { goByNotation } from "./notation.ts";
import { showTheme } from "./theme.ts";
import type { WindowMemory } from "./window-memory.ts";

/** Rules that hang on a setting and need a sheet of their own: a size of paper cannot be a variable. */
const rules = typeof CSSStyleSheet === "undefined" ? null : new CSSStyleSheet();

/** Makes a window look, read and hear as its person wants it. */
export function applySettings(settings: OwnSettings, page: Document, memory: WindowMemory): void {
  showTheme(settings.theme, page.documentElement, memory);
  page.documentElement.style.setProperty("--own-size", String(settings.textSize / 100));
  goByNotation(settings);
  giveKeys(settings.keys);
  if (!rules?.replaceSync) return;
  rules.replaceSync(`@page { size: ${settings.paper} } @page report { size: ${settings.paper} }`);
  if (!page.adoptedStyleSheets.includes(rules)) page.adoptedStyleSheets = [...page.adoptedStyleSheets, rules];
}
