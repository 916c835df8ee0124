/** What a window remembers by: storage is bound to the origin, cookies only to the host's address. */
export interface WindowMemory {
  readonly storage: Pick<Storage, "getItem" | "setItem">;
  readonly page: { cookie: string };
}

const YEAR_IN_SECONDS = 31_536_000;

/**
 * The texts kept under a key on this machine, the cookie's first. The loopback host has another port, so another origin,
 * at every start: there only the cookie remembers. In Electron only the storage does.
 */
export function rememberedTexts(key: string, { storage, page }: WindowMemory): readonly string[] {
  const cookie = page.cookie
    .split("; ")
    .find((one) => one.startsWith(`${key}=`))
    ?.slice(key.length + 1);
  return [decoded(cookie), storage.getItem(key)].filter((text) => text !== null);
}

function decoded(text: string | undefined): string | null {
  try {
    return text === undefined ? null : decodeURIComponent(text);
  } catch {
    // Not written by this program.
    return null;
  }
}

/** Keeps a text; a cookie holds about 3000 characters of it. */
export function rememberText(key: string, text: string, { storage, page }: WindowMemory): void {
  storage.setItem(key, text);
  // Not the newer interface for cookies: it answers too late for the first drawing.
  page.cookie = `${key}=${encodeURIComponent(text)}; path=/; max-age=${YEAR_IN_SECONDS}; samesite=strict`;
}
