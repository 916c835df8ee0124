import type { CallInput } from "#core/contract/calls.ts";
import { type CellVolume, NewTypedVolume } from "#core/contract/records/cell-volume.ts";
import { CARBON_CLASSES, type CarbonClass } from "#core/vocabulary/counting.ts";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";

/** What is typed of the volume of one counted unit. */
export interface CellVolumeDraft {
  readonly from: "sheet" | "typed";
  readonly sheetId: string;
  readonly label: string;
  readonly quantity: string;
  readonly volume: string;
  readonly expanded: string;
  readonly source: string;
  readonly carbon: CarbonClass;
  readonly reason: string;
}

export function draftOf(
  given: CellVolume | null,
  linkedSheetId: string | null,
  carbon: CarbonClass,
): CellVolumeDraft {
  const empty: CellVolumeDraft = {
    from: "sheet",
    sheetId: linkedSheetId ?? "",
    label: "",
    quantity: "",
    volume: "",
    expanded: "",
    source: "",
    carbon: given?.carbon ?? carbon,
    reason: "",
  };
  if (!given) return empty;
  const { of } = given;
  if (of.from === "typed") return { ...empty, ...of };
  return { ...empty, sheetId: of.sheetId, label: of.label ?? "", quantity: of.quantity };
}

/** Diatoms by their name or group; nothing is guessed of anything else. */
export function carbonGuessed(words: string): CarbonClass {
  return /diatom|bacillario/i.test(words) ? "diatoms" : "none";
}

export function problemsOfDraft(draft: CellVolumeDraft, replaces: boolean): FieldErrors {
  const reason =
    replaces && draft.reason.trim() === "" ? { reason: "is needed: another volume was given before" } : {};
  if (draft.from === "sheet")
    return { ...reason, ...(draft.sheetId === "" ? { sheetId: "Choose a sheet." } : {}) };
  const { volume, expanded, source } = draft;
  return {
    ...reason,
    ...problemsBySchema(NewTypedVolume, { from: "typed", volume, expanded, source }),
    ...(source.trim() === "" ? { source: "is needed: say which list or table it is from" } : {}),
  };
}

export function givenOf(draft: CellVolumeDraft): CallInput<"counts.giveCellVolume">["given"] {
  const { from, sheetId, label, quantity, volume, expanded, source, carbon } = draft;
  return {
    carbon,
    of: from === "sheet" ? { from, sheetId, label, quantity } : { from, volume, expanded, source },
  };
}

const WORDS: Readonly<Record<CarbonClass, string>> = {
  none: "none",
  protists: "protists except diatoms: 0.216·V^0.939 pg",
  diatoms: "diatoms: 0.288·V^0.811 pg",
};

export const CARBON_CHOICES = CARBON_CLASSES.map((value) => ({ value, words: WORDS[value] }));
