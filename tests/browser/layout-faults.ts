import type { Page } from "@playwright/test";

/** From this width on, CSS px, a table that hides controls at its side is a fault; narrower ones may be scrolled sideways. */
const TABLES_FIT_FROM = 1000;

/**
 * What is wrong with how a page is laid out: controls or words that are cut off, that lie over each other, tables set one
 * word to a line, anything wider than the window. One sentence each; none where all is well. Left out: what is out of sight
 * and can be scrolled to, and the entry grid, whose columns scroll by design.
 */
export function layoutFaults(page: Page): Promise<readonly string[]> {
  return page.evaluate((tablesFitFrom) => {
    const SLACK = 2;
    const CONTROLS = "button, input, select, textarea, a[href], summary";
    const faults = new Set<string>();
    const root = document.querySelector("dialog[open]") ?? document.body;

    type Box = Readonly<Record<"left" | "top" | "right" | "bottom", number>>;
    interface Thing {
      readonly element: Element;
      readonly words: string;
      readonly box: Box;
    }

    const name = (element: Element): string => {
      const words = element.getAttribute("aria-label") ?? element.textContent ?? "";
      return `${element.tagName.toLowerCase()} “${words.trim().replaceAll(/\s+/g, " ").slice(0, 50)}”`;
    };
    const upwards = (element: Element): Element[] => {
      const all: Element[] = [];
      for (let at: Element | null = element; at && at !== document.body; at = at.parentElement) all.push(at);
      return all;
    };
    const isSeen = (element: Element): boolean =>
      element.checkVisibility({ visibilityProperty: true, opacityProperty: true }) &&
      !upwards(element).some((at) => getComputedStyle(at).clipPath !== "none");
    /** Stays where it is while what lies under it is scrolled. */
    const isPinned = (element: Element): boolean =>
      upwards(element).some((at) => ["sticky", "fixed"].includes(getComputedStyle(at).position));
    const isEmpty = ({ left, top, right, bottom }: Box): boolean => right - left < 1 || bottom - top < 1;

    const hides = (overflow: string): boolean => overflow === "hidden" || overflow === "clip";
    const isPast = (from: number, to: number, least: number, most: number): boolean =>
      from < least - SLACK || to > most + SLACK;
    const isCutBy = (at: Element, box: Box, edge: Box): boolean => {
      const { overflowX, overflowY } = getComputedStyle(at);
      if (hides(overflowY) && isPast(box.top, box.bottom, edge.top, edge.bottom)) return true;
      const isScrolledAside = overflowX !== "visible" && window.innerWidth >= tablesFitFrom;
      return (hides(overflowX) || isScrolledAside) && isPast(box.left, box.right, edge.left, edge.right);
    };
    /** What of a box its ancestors leave in sight, and the first that cuts it off. */
    const cutDown = (
      around: readonly Element[],
      whole: Box,
    ): { readonly box: Box; readonly by?: Element } => {
      let box = whole;
      let by: Element | undefined;
      for (const at of around) {
        const { overflowX, overflowY } = getComputedStyle(at);
        if (overflowX === "visible" && overflowY === "visible") continue;
        const edge = at.getBoundingClientRect();
        if (isCutBy(at, box, edge)) by ??= at;
        box = {
          left: Math.max(box.left, edge.left),
          right: Math.min(box.right, edge.right),
          top: Math.max(box.top, edge.top),
          bottom: Math.min(box.bottom, edge.bottom),
        };
      }
      return by ? { box, by } : { box };
    };
    const overlap = (one: Thing, other: Thing): boolean =>
      !one.element.contains(other.element) &&
      !other.element.contains(one.element) &&
      Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left) > SLACK &&
      Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top) > SLACK;
    const tellOverlaps = (things: readonly Thing[], what: string): void => {
      const sorted = [...things].sort((a, b) => a.box.top - b.box.top);
      for (const [at, one] of sorted.entries()) {
        const near = sorted.slice(at + 1).filter(({ box }) => box.top < one.box.bottom);
        for (const other of near.filter((candidate) => overlap(one, candidate))) {
          faults.add(`${what} overlap: ${one.words} and ${other.words}`);
        }
      }
    };

    const tellWidth = (what: string, element: Element, width: number): void => {
      if (element.scrollWidth > width + SLACK)
        faults.add(`${what} is ${element.scrollWidth - width} px too wide`);
    };
    tellWidth("the page", document.documentElement, window.innerWidth);
    const main = document.querySelector("main");
    if (main) tellWidth("the screen", main, main.clientWidth);

    const shownControl = (element: Element): Thing | null => {
      const whole = element.getBoundingClientRect();
      if (element.closest("[role=grid]") || !isSeen(element) || isEmpty(whole) || whole.bottom < 0)
        return null;
      const { box, by } = cutDown(upwards(element).slice(1), whole);
      if (by) faults.add(`cut off: ${name(element)} in ${by.tagName.toLowerCase()}.${by.className}`);
      return isEmpty(box) || isPinned(element) ? null : { element, words: name(element), box };
    };
    const controls = [...root.querySelectorAll(CONTROLS)].flatMap((element) => shownControl(element) ?? []);
    tellOverlaps(controls, "controls");

    const linesOf = (node: Node): readonly DOMRect[] => {
      const range = document.createRange();
      range.selectNodeContents(node);
      return [...range.getClientRects()];
    };
    const tellText = (element: Element, text: string, lines: readonly DOMRect[]): void => {
      const button = element.closest("button")?.getBoundingClientRect();
      if (button && lines.some((line) => isPast(line.left, line.right, button.left, button.right))) {
        faults.add(`words do not fit: button “${text.slice(0, 40)}”`);
      }
      const words = text.split(/\s+/).length;
      const rows = new Set(lines.map(({ top }) => Math.round(top))).size;
      if (words >= 3 && rows >= words && element.closest("tbody :is(td, th)"))
        faults.add(`one word to a line: “${text.slice(0, 40)}”`);
    };
    const shownLines = (node: Node): readonly Thing[] => {
      const element = node.parentElement;
      const text = node.textContent?.trim() ?? "";
      if (
        !element ||
        text === "" ||
        element.closest("[role=grid], option, script, style, title") ||
        element.matches("details:not([open])")
      )
        return [];
      if (!isSeen(element) || isPinned(element)) return [];
      const lines = linesOf(node);
      tellText(element, text, lines);
      // Lines of text touch: an overlap is more than a sixth of a line.
      const share = element.matches("sub, sup") ? 2 : 6;
      return lines.flatMap(({ left, right, top, bottom, height }) => {
        const inner = { left, right, top: top + height / share, bottom: bottom - height / share };
        const { box } = cutDown(upwards(element), inner);
        return isEmpty(box) ? [] : [{ element, words: `“${text.slice(0, 40)}”`, box }];
      });
    };
    const texts: Thing[] = [];
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) texts.push(...shownLines(walker.currentNode));
    tellOverlaps(texts, "texts");
    return [...faults];
  }, TABLES_FIT_FROM);
}
