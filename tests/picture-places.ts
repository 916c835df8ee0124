import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import { EXERCISES } from "#core/vocabulary/practice.ts";
import {
  ABOUT_PARTS,
  COUNT_PARTS,
  HandbookPageName,
  type Location,
  PRACTICE_PARTS,
  REGISTERS,
  TABS,
  TREND_PARTS,
} from "#renderer/window/location.ts";

/** Asks the program that is open; refusals are thrown. */
export type Ask = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallOutput<N>>;

/** Every place of the window that has an address, with a name to keep a picture under, on the bench that is open. */
export async function everyPlace(
  ask: Ask,
): Promise<{ readonly name: string; readonly location: Location }[]> {
  const { microscopes } = await ask("bench.overview", {});
  const trains = microscopes.flatMap((one) => one.trains);
  const trainId = (trains.find((one) => one.state === "ready") ?? trains[0])?.train.id ?? null;
  const idOf = (records: readonly { readonly id: string }[]): string | null => records[0]?.id ?? null;
  const microscope = microscopes[0]?.microscope.id ?? null;
  const micrometer = idOf(await ask("micrometers.list", {}));
  const method = idOf(await ask("methods.list", {}));
  const sheetId = idOf(await ask("sheets.list", {}));
  const records = {
    counts: idOf(await ask("counts.list", {})),
    methods: idOf(await ask("countMethods.list", {})),
    lists: null,
    recounts: null,
    controls: null,
  };
  const form = (
    register: "microscopes" | "micrometers" | "methods" | "people",
    recordId: string | null,
    name: Extract<Location, { screen: "registers" }>["form"],
  ) => ({
    name: `${register}-${name}`,
    location: { screen: "registers", register, recordId, form: name } as const,
  });
  const atWork: { readonly name: string; readonly location: Location }[] = [];
  for (const exercise of EXERCISES) {
    const { id } = await ask("practice.begin", { requestId: crypto.randomUUID(), exercise, seed: null });
    atWork.push({
      name: `practice-at-${exercise}`,
      location: { screen: "practice", part: "exercises", attemptId: id },
    });
  }
  return [
    { name: "settings", location: { screen: "settings" } },
    { name: "quick-check", location: { screen: "calibrate", trainId, calibrationId: null, check: true } },
    { name: "second-readings", location: { screen: "measure", sheetId, second: "list" } },
    ...COUNT_PARTS.flatMap((part) => [
      { name: `count-${part}`, location: { screen: "count", part, recordId: null } as const },
      { name: `count-${part}-one`, location: { screen: "count", part, recordId: records[part] } as const },
    ]),
    ...TREND_PARTS.map((part) => ({
      name: `trends-${part}`,
      location: { screen: "trends", part, subjectId: null } as const,
    })),
    ...REGISTERS.map((register) => ({
      name: `registers-${register}`,
      location: { screen: "registers", register, recordId: null, form: null } as const,
    })),
    form("people", null, "new"),
    form("microscopes", null, "new"),
    form("microscopes", microscope, "objective"),
    form("microscopes", microscope, "eyepiece"),
    form("microscopes", microscope, "card"),
    form("micrometers", null, "new"),
    form("micrometers", micrometer, "certificate"),
    form("micrometers", micrometer, "labels"),
    form("methods", null, "new"),
    form("methods", method, "version"),
    ...TABS.map((tab) => ({
      name: `records-${tab}`,
      location: { screen: "records", tab, recordId: tab === "report" ? sheetId : null } as const,
    })),
    ...PRACTICE_PARTS.map((part) => ({
      name: `practice-${part}`,
      location: { screen: "practice", part, attemptId: null } as const,
    })),
    ...atWork,
    ...ABOUT_PARTS.map((part) => ({ name: `about-${part}`, location: { screen: "about", part } as const })),
    ...HandbookPageName.options.map((page) => ({
      name: `handbook-${page}`,
      location: { screen: "about", part: "handbook", page } as const,
    })),
  ];
}
