import { useCall } from "../../bridge/use-call.ts";
import { sampleWords } from "../../parts/bench-words/sample-words.ts";
import type { Location } from "../../window/location.ts";
import { FIXED_PLACES, type Place } from "./fixed-places.ts";

/** Of each kind no more than a glance takes in; a word more finds the rest. */
const OF_A_KIND = 6;

const NARROWED_BY_NOTHING = {
  ...{ state: null, personId: null, familyId: null, objectiveId: null, since: null, until: null },
  ...{ sort: "number" as const, descending: true, skip: 0, count: OF_A_KIND },
};

/** Every word occurs, whatever the case. */
export function holdsWords(text: string, typed: string): boolean {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  return words.every((word) => text.toLowerCase().includes(word));
}

/** Places found by some letters. */
export interface FoundPlaces {
  readonly places: readonly Place[];
  /** All has been looked through; otherwise more may come. */
  readonly isWhole: boolean;
}

/** Sheets and counts by number, sample or customer, and rows by their label: what the services look for. */
export function useFoundRecords(typed: string): FoundPlaces {
  const words = typed.trim();
  const foundSheets = useCall("sheets.search", { ...NARROWED_BY_NOTHING, words });
  const foundCounts = useCall("counts.search", { ...NARROWED_BY_NOTHING, words });
  const foundRows = useCall("rows.byLabel", { words, count: OF_A_KIND });
  const isWhole = [foundSheets, foundCounts, foundRows].every(isAnswered);
  const sheets = foundSheets.data?.sheets ?? [];
  const counts = foundCounts.data?.counts ?? [];
  const rows = foundRows.data ?? [];
  const places = [
    ...sheets.map((sheet) => ({
      key: sheet.id,
      words: `${sheet.number} ${sampleWords(sheet)}`,
      kind: "sheet",
      location: { screen: "measure", sheetId: sheet.id } as const,
    })),
    ...counts.map((count) => ({
      key: count.id,
      words: `${count.number} ${sampleWords(count)}`,
      kind: "count",
      location: { screen: "count", part: "counts", recordId: count.id } as const,
    })),
    ...rows.map(({ rowId, sheetId, sheetNumber, sample, ordinal, label }) => ({
      key: rowId,
      words: label,
      kind: `row ${ordinal} of ${sheetNumber}, ${sample}`,
      location: { screen: "measure", sheetId, row: ordinal } as const,
    })),
  ];
  return { places, isWhole };
}

const isAnswered = ({ data, error }: { readonly data: unknown; readonly error: unknown }): boolean =>
  data !== undefined || error !== undefined;

/** Screens with their parts, and what stands in the registers. */
export function useNamedPlaces(typed: string): FoundPlaces {
  const people = useCall("people.list", {});
  const microscopes = useCall("microscopes.list", {});
  const micrometers = useCall("micrometers.list", {});
  const methods = useCall("methods.list", {});
  const entry = (
    register: Extract<Location, { screen: "registers" }>["register"],
    kind: string,
    { id, name }: { readonly id: string; readonly name: string },
  ): Place => ({
    ...{ key: id, words: name, kind },
    location: { screen: "registers", register, recordId: id, form: null },
  });
  const registered = [
    ...(people.data ?? []).map((one) => entry("people", "person", one)),
    ...(microscopes.data ?? []).map((one) => entry("microscopes", "microscope", one)),
    ...(micrometers.data ?? []).map((one) => entry("micrometers", "stage micrometer", one)),
    ...(methods.data ?? []).map(({ id, definition, version }) =>
      entry("methods", `method, version ${version}`, { id, name: definition.name }),
    ),
  ];
  const isWhole = [people, microscopes, micrometers, methods].every(isAnswered);
  if (typed.trim() === "") return { places: FIXED_PLACES, isWhole };
  const found = [...FIXED_PLACES, ...registered].filter(({ words, kind }) =>
    holdsWords(`${words} ${kind}`, typed),
  );
  const starts = ({ words }: Place): number =>
    words.toLowerCase().startsWith(typed.trim().toLowerCase()) ? 0 : 1;
  return { places: found.sort((a, b) => starts(a) - starts(b)).slice(0, 3 * OF_A_KIND), isWhole };
}
