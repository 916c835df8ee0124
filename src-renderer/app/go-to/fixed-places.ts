import { HANDBOOK } from "../../handbook/handbook-pages.ts";
import {
  type Location,
  SCREEN_START,
  SCREEN_TITLES,
  SCREENS,
  type ScreenName,
} from "../../window/location.ts";

/** A place with the words it is found by. */
export interface Place {
  readonly key: string;
  readonly words: string;
  /** What kind of thing it is, or where: said behind the words. */
  readonly kind: string;
  readonly location: Location;
}

const register = (name: Extract<Location, { screen: "registers" }>["register"], form: "new" | null = null) =>
  ({ screen: "registers", register: name, recordId: null, form }) as const;
const records = (tab: Extract<Location, { screen: "records" }>["tab"]) =>
  ({ screen: "records", tab, recordId: null }) as const;

const PARTS: readonly (readonly [words: string, location: Location])[] = [
  ["People", register("people")],
  ["Microscopes", register("microscopes")],
  ["Stage micrometers", register("micrometers")],
  ["Methods", register("methods")],
  ["Laboratory", register("laboratory")],
  ["Register a person", register("people", "new")],
  ["Register a microscope", register("microscopes", "new")],
  ["Register a stage micrometer", register("micrometers", "new")],
  ["Define a method", register("methods", "new")],
  ["Sheets", records("sheets")],
  ["Summary of a job", records("summary")],
  ["Calibrations", records("calibrations")],
  ["Export and check", records("exchange")],
  ["Import", records("import")],
  ["Audit trail", records("trail")],
  ["Verify", records("verify")],
  ["Backups", records("backups")],
  ["Count methods", { screen: "count", part: "methods", recordId: null }],
  ["Control samples", { screen: "count", part: "controls", recordId: null }],
  ["Category lists", { screen: "count", part: "lists", recordId: null }],
  ["Recounts", { screen: "count", part: "recounts", recordId: null }],
  ["Cautions", { screen: "about", part: "cautions" }],
  ["Self-test", { screen: "about", part: "selftest" }],
  ["What changed", { screen: "about", part: "news" }],
];

const PAGES: readonly Place[] = HANDBOOK.map(({ name, title }) => ({
  key: `handbook ${name}`,
  words: title,
  kind: "page of the handbook",
  location: { screen: "about", part: "handbook", page: name },
}));

/** The screens, and the parts of them that have a name of their own. */
export const FIXED_PLACES: readonly Place[] = [
  ...SCREENS.map((screen) => ({
    key: screen,
    words: SCREEN_TITLES[screen],
    kind: "screen",
    location: SCREEN_START[screen],
  })),
  ...PARTS.map(([words, location]) => ({ key: words, words, kind: titleOf(location.screen), location })),
  ...PAGES,
];

function titleOf(screen: ScreenName): string {
  return `in ${SCREEN_TITLES[screen]}`;
}
