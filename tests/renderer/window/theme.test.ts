// @vitest-environment jsdom
import { beforeEach, describe, expect, it } from "vitest";
import { rememberedTheme, showTheme } from "#renderer/window/theme.ts";

/** A window's memory at one origin; the cookie jar may be shared with another. */
function memory(page = { cookie: "" }) {
  const kept = new Map<string, string>();
  const storage = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  };
  return { storage, page };
}
const root = document.documentElement;

beforeEach(() => {
  delete root.dataset.theme;
});

describe("the theme", () => {
  it("is dim at first, because the room is", () => {
    expect(rememberedTheme(memory())).toBe("dim");
  });

  it("is shown by one attribute and remembered where there are no cookies", () => {
    const here = memory();
    showTheme("light", root, here);
    expect(root.dataset.theme).toBe("light");
    here.page.cookie = "";
    expect(rememberedTheme(here)).toBe("light");
  });

  it("is remembered at another port of the host, where the storage is new", () => {
    const here = memory();
    showTheme("light", root, here);
    const jar = { cookie: `session=x; ${here.page.cookie.split(";")[0]}` };
    expect(rememberedTheme(memory(jar))).toBe("light");
  });

  it("is dim when what is kept makes no sense", () => {
    const here = memory({ cookie: "linefall.theme=purple" });
    expect(rememberedTheme(here)).toBe("dim");
  });
});
