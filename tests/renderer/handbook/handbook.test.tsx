// @vitest-environment jsdom
import { act } from "react";
import { createRoot, type Root } from "react-dom/client";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { HANDBOOK, keyGroupsFor, pageFor } from "#renderer/handbook/handbook-pages.ts";
import { searchHandbook } from "#renderer/handbook/handbook-search.ts";
import { PageText } from "#renderer/handbook/PageText.tsx";
import { KEYMAP } from "#renderer/window/keymap.ts";
import { HandbookPageName, SCREEN_START, SCREENS } from "#renderer/window/location.ts";

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true });

let root: Root;
let box: HTMLElement;
beforeEach(() => {
  box = document.body.appendChild(document.createElement("div"));
  root = createRoot(box);
});
afterEach(() => {
  act(() => root.unmount());
  box.remove();
});

const draw = (text: string, onPage = vi.fn()) => {
  act(() => root.render(<PageText text={text} onPage={onPage} />));
  return onPage;
};

describe("the handbook", () => {
  it("has a text and a title for each page that a place may name", () => {
    expect(HANDBOOK.map(({ name }) => name)).toEqual(HandbookPageName.options);
    for (const { title, text } of HANDBOOK) {
      expect(title).toMatch(/^[A-Z]/);
      expect(text.length).toBeGreaterThan(300);
    }
  });

  it.each(HANDBOOK.map((page) => [page.name, page] as const))(
    "sets %s: its drawings and links are there",
    (_, page) => {
      draw(page.text);
      const asked = page.text.match(/\(drawing:/g)?.length ?? 0;
      expect(box.querySelectorAll("figure > svg[role=img][aria-label]")).toHaveLength(asked);
      const pictures = page.text.match(/\(picture:/g)?.length ?? 0;
      expect(box.querySelectorAll("figure > img[alt][src*=practice-]")).toHaveLength(pictures);
      const links = [...page.text.matchAll(/\(page:([^)]*)\)/g)].map(([, name]) => name);
      expect([...box.querySelectorAll("a")].map((link) => link.getAttribute("href"))).toEqual(
        links.map((name) => `#${name}`),
      );
      expect(links.filter((name) => !HandbookPageName.safeParse(name).success)).toEqual([]);
    },
  );

  it("names no key that the key table does not have", () => {
    const chords = new Set<string>(KEYMAP.flatMap((entry) => entry.keys as readonly string[]));
    const named = HANDBOOK.flatMap(
      ({ text }) =>
        text.match(/\b(?:Alt|Ctrl|Shift)\+(?:[A-Z]\b|F\d+|Enter|Space|[←→↑↓]|\d)|\bF\d+\b/g) ?? [],
    );
    const ARROWS: Readonly<Record<string, string>> = {
      "←": "ArrowLeft",
      "→": "ArrowRight",
      "↑": "ArrowUp",
      "↓": "ArrowDown",
    };
    const written = named.map((chord) => chord.replace(/[←→↑↓]/, (arrow) => ARROWS[arrow] ?? arrow));
    expect(written.length).toBeGreaterThan(10);
    expect(written.filter((chord) => !chords.has(chord))).toEqual([]);
  });

  it("goes to the page that a link names", () => {
    const onPage = draw("See [the factor](page:objectives).");
    act(() => box.querySelector("a")?.click());
    expect(onPage).toHaveBeenCalledWith("objectives");
  });

  it("draws no element from marks in the text, and fails aloud at a drawing it has not", () => {
    draw("<img src=x onerror=alert(1)> <b>bold</b>");
    expect(box.querySelector("img, b")).toBeNull();
    const silent = vi.spyOn(console, "error").mockImplementation(() => undefined);
    expect(() => draw("![none](drawing:none)")).toThrow(/has no “drawing:none”/);
    silent.mockRestore();
  });

  it("has a page and keys for every screen", () => {
    for (const screen of SCREENS) {
      expect(HandbookPageName.options).toContain(pageFor(SCREEN_START[screen]));
      expect(keyGroupsFor(screen).length).toBeGreaterThan(0);
    }
    expect(pageFor({ screen: "registers", register: "micrometers", recordId: null, form: null })).toBe(
      "micrometers",
    );
  });
});

describe("looking for words in it", () => {
  it.each([
    ["parallax", "calibrate"],
    ["halo", "edges"],
    ["coverage factor", "uncertainty"],
    ["expnded uncertainty", "uncertainty"],
    ["lower edge", "count"],
    ["bakups", "records"],
  ])("%s leads to the page %s", (typed, page) => {
    expect(searchHandbook(typed).map((passage) => passage.page)).toContain(page);
  });

  it("finds nothing for words that are not there", () => {
    expect(searchHandbook("zebra")).toEqual([]);
  });
});
