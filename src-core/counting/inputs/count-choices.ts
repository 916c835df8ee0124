import type { ChamberChoice, DrumChoice, FilterChoice } from "../../contract/records/count-method.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requirePositive } from "../../quantity/input-error.ts";
import { type ChamberOutline, COUNTING_CHAMBERS, type CountingChamber } from "../areas/chambers.ts";
import { type DrumTrap, HIRST_DRUM } from "../areas/drum-trap.ts";
import { COLLECTING_FILTERS, type CollectingFilter } from "../areas/filters.ts";

export const DRUM_TRAPS: readonly DrumTrap[] = [HIRST_DRUM];

function positiveText(field: string, typed: string): string {
  const { text, value } = readDecimal(field, typed);
  requirePositive(field, value);
  return text;
}

function fromLibrary<T extends { readonly id: string }>(field: string, library: readonly T[], id: string): T {
  const found = library.find((entry) => entry.id === id);
  if (!found) throw new InputError(field, `“${id}” is not in the library`);
  return found;
}

type OwnOutline = Extract<ChamberChoice, { from: "own" }>["outline"];

function outlineOf(outline: OwnOutline): ChamberOutline {
  if (outline.kind === "circle") {
    return { kind: "circle", diameter: positiveText("chamber.outline.diameter", outline.diameter) };
  }
  return {
    kind: "rectangle",
    length: positiveText("chamber.outline.length", outline.length),
    width: positiveText("chamber.outline.width", outline.width),
  };
}

/** The chamber of a method, from the library or the laboratory's own. @throws InputError naming what cannot be read */
export function chamberOf(choice: ChamberChoice): CountingChamber {
  if (choice.from === "library") return fromLibrary("chamber", COUNTING_CHAMBERS, choice.chamberId);
  return {
    id: "own",
    name: choice.name,
    outline: outlineOf(choice.outline),
    depth: choice.depth.trim() === "" ? null : positiveText("chamber.depth", choice.depth),
    volume: null,
    squares: choice.squares.map((square, i) => ({
      ...square,
      area: positiveText(`chamber.squares.${i}.area`, square.area),
    })),
    source: choice.source,
    standing: choice.standing,
  };
}

/** The filter of a method. @throws InputError naming what cannot be read */
export function filterOf(choice: FilterChoice): CollectingFilter {
  if (choice.from === "library") return fromLibrary("filter", COLLECTING_FILTERS, choice.filterId);
  const { name, source, standing } = choice;
  const effectiveArea = positiveText("filter.effectiveArea", choice.effectiveArea);
  return { id: "own", name, effectiveArea, source, standing };
}

/** The drum of a method. @throws InputError naming what cannot be read */
export function drumOf(choice: DrumChoice): DrumTrap {
  if (choice.from === "library") return fromLibrary("drum", DRUM_TRAPS, choice.drumId);
  const { name, source, standing } = choice;
  return {
    id: "own",
    name,
    traceWidth: positiveText("drum.traceWidth", choice.traceWidth),
    airflow: positiveText("drum.airflow", choice.airflow),
    source,
    standing,
  };
}
