export const THEMES = ["dim", "light"] as const;
export type Theme = (typeof THEMES)[number];

/** What a window remembers by: storage is bound to the origin, cookies only to the host's address. */
export interface ThemeMemory {
  readonly storage: Pick<Storage, "getItem" | "setItem">;
  readonly page: { cookie: string };
}

const KEY = "linefall.theme";
const YEAR_IN_SECONDS = 31_536_000;

function themeIn(text: string | null): Theme | undefined {
  return THEMES.find((theme) => theme === text);
}

/**
 * The theme chosen last on this machine; dim at first, because the room is. The loopback host has another port, so
 * another origin, at every start: there only the cookie remembers. In Electron only the storage does.
 */
export function rememberedTheme({ storage, page }: ThemeMemory): Theme {
  const cookie = page.cookie
    .split("; ")
    .find((one) => one.startsWith(`${KEY}=`))
    ?.slice(KEY.length + 1);
  return themeIn(cookie ?? null) ?? themeIn(storage.getItem(KEY)) ?? "dim";
}

/** Shows a theme and remembers it. */
export function showTheme(theme: Theme, root: HTMLElement, { storage, page }: ThemeMemory): void {
  root.dataset.theme = theme;
  storage.setItem(KEY, theme);
  // Not the newer interface for cookies: it answers too late for the first drawing.
  page.cookie = `${KEY}=${theme}; path=/; max-age=${YEAR_IN_SECONDS}; samesite=strict`;
}
