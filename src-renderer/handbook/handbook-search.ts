import MiniSearch from "minisearch";
import type { HandbookPageName } from "../window/location.ts";
import { HANDBOOK } from "./handbook-pages.ts";

/** A part of a page that holds what was looked for. */
export interface Passage {
  readonly id: string;
  readonly page: HandbookPageName;
  readonly title: string;
  /** The heading within the page; empty: its beginning. */
  readonly heading: string;
  /** Its words without marks. */
  readonly words: string;
}

const plain = (markdown: string): string =>
  markdown
    .replaceAll(/!\[([^\]]*)\]\([^)]*\)/g, "$1")
    .replaceAll(/\[([^\]]*)\]\([^)]*\)/g, "$1")
    .replaceAll(/[*|`\\]|^[-\d.]+ |^\|[-|]+$/gm, " ")
    .replaceAll(/\s+/g, " ")
    .trim();

const PASSAGES: readonly Passage[] = HANDBOOK.flatMap(({ name, title, text }) =>
  text.split(/^## /m).map((part, at) => {
    const end = at === 0 ? 0 : part.indexOf("\n");
    return {
      id: `${name} ${at}`,
      page: name,
      title,
      heading: part.slice(0, end),
      words: plain(part.slice(end)),
    };
  }),
);

let made: MiniSearch<Passage> | null = null;

/** Made when somebody looks for something, not when the program starts. */
function index(): MiniSearch<Passage> {
  if (made === null) {
    made = new MiniSearch<Passage>({ fields: ["title", "heading", "words"] });
    made.addAll(PASSAGES);
  }
  return made;
}

/** The passages that hold all the words, begun or nearly as typed, the best first. */
export function searchHandbook(typed: string): readonly Passage[] {
  const found = index().search(typed, {
    combineWith: "AND",
    prefix: true,
    fuzzy: (term) => (term.length > 4 ? 0.2 : false),
    boost: { title: 3, heading: 2 },
  });
  return found.flatMap(({ id }) => PASSAGES.find((passage) => passage.id === id) ?? []);
}
