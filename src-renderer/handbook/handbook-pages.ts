import type { KeyEntry } from "../window/keymap.ts";
import type { HandbookPageName, Location, ScreenName } from "../window/location.ts";
import calibrate from "./pages/calibrate.md?raw";
import count from "./pages/count.md?raw";
import edges from "./pages/edges.md?raw";
import firstHour from "./pages/first-hour.md?raw";
import measure from "./pages/measure.md?raw";
import micrometers from "./pages/micrometers.md?raw";
import objectives from "./pages/objectives.md?raw";
import practice from "./pages/practice.md?raw";
import records from "./pages/records.md?raw";
import registers from "./pages/registers.md?raw";
import settings from "./pages/settings.md?raw";
import tenths from "./pages/tenths.md?raw";
import trace from "./pages/trace.md?raw";
import trends from "./pages/trends.md?raw";
import uncertainty from "./pages/uncertainty.md?raw";
import words from "./pages/words.md?raw";

/** The text of each page, in the order they are listed: Markdown, its title the first line. */
const TEXT_OF: Readonly<Record<HandbookPageName, string>> = {
  "first-hour": firstHour,
  calibrate,
  tenths,
  edges,
  uncertainty,
  objectives,
  micrometers,
  measure,
  count,
  trends,
  trace,
  records,
  registers,
  practice,
  settings,
  words,
};

/** A page of the handbook. */
export interface HandbookPage {
  readonly name: HandbookPageName;
  readonly title: string;
  /** Markdown without the title. */
  readonly text: string;
}

export const HANDBOOK: readonly HandbookPage[] = Object.entries(TEXT_OF).map(([name, whole]) => {
  const end = whole.indexOf("\n");
  return { name: name as HandbookPageName, title: whole.slice(2, end), text: whole.slice(end).trim() };
});

export function handbookPage(name: HandbookPageName): HandbookPage {
  const found = HANDBOOK.find((page) => page.name === name);
  if (!found) throw new Error(`The handbook has no page ${name}`);
  return found;
}

const PAGE_OF_SCREEN: Readonly<Record<ScreenName, HandbookPageName>> = {
  bench: "first-hour",
  calibrate: "calibrate",
  measure: "measure",
  count: "count",
  trends: "trends",
  registers: "registers",
  records: "records",
  trace: "trace",
  practice: "practice",
  settings: "settings",
  about: "first-hour",
};

const PAGE_OF_REGISTER = { micrometers: "micrometers", microscopes: "objectives" } as const;

/** The page about where one is. */
export function pageFor(location: Location): HandbookPageName {
  if (location.screen === "registers" && location.register in PAGE_OF_REGISTER)
    return PAGE_OF_REGISTER[location.register as keyof typeof PAGE_OF_REGISTER];
  if (location.screen === "calibrate" && location.check) return "trends";
  if (location.screen === "about" && location.part === "model") return "uncertainty";
  return PAGE_OF_SCREEN[location.screen];
}

const GROUPS_OF_SCREEN: { readonly [N in ScreenName]?: readonly KeyEntry["group"][] } = {
  bench: ["Bench"],
  calibrate: ["Calibrate", "Forms"],
  measure: ["Measure", "Cells"],
  count: ["Count"],
  trends: ["Trends"],
  registers: ["Lists", "Forms"],
  records: ["Lists"],
};

/** The groups of keys that work on a screen, beside those that work everywhere. */
export function keyGroupsFor(screen: ScreenName): readonly KeyEntry["group"][] {
  return GROUPS_OF_SCREEN[screen] ?? ["Everywhere"];
}
