import { LaboratorySettings } from "../records/laboratory.ts";
import { PracticeCriteria } from "../records/practice.ts";
import type { Act } from "./trail-event.ts";

const ROW_STATE = ["onSheet", "struck", "about", "row"] as const;
const READING = ["trainId", "calibrationId", "flags", "missing", "size"] as const;
const FROZEN = ["assessment", "pooled"] as const;

/** What a line of an older program may leave unsaid, and nothing can say for it: it is absent in the event that is read. */
export const LACKING = {
  "people.setPin": ["isFirst"],
  "calibrations.putInForce": [...FROZEN, "supersedes"],
  "calibrations.recalculate": FROZEN,
  "checks.withdraw": ROW_STATE,
  "trends.setTolerance": ["rule"],
  "rows.enter": READING,
  "rows.amend": [...READING, ...ROW_STATE],
  "rows.enterBlock": ROW_STATE,
  "rows.changeObjective": ["size", ...ROW_STATE],
  "rows.convert": ["size", ...ROW_STATE],
  "rows.undo": ROW_STATE,
  "rows.redo": ROW_STATE,
  "imports.accept": ROW_STATE,
  "documents.readIn": [...ROW_STATE, "signOffs"],
  "secondReadings.enter": ["about"],
  "counts.resume": ["trainCautions"],
  "counts.close": ["lastField"],
} as const satisfies { readonly [A in Act]?: readonly string[] };

type Detail = Readonly<Record<string, unknown>>;

/** Settings that were not there yet stood as their schema says; what cannot be read stays as it is. */
const settings = (told: unknown): unknown => LaboratorySettings.safeParse(told).data ?? told;
const criteria = (told: unknown): unknown => PracticeCriteria.safeParse(told).data ?? told;
const withCustomer = (told: Detail): Detail => ({ customer: null, ...told });

/** What a line of an older program says by leaving it out. */
const FILLED: Readonly<Partial<Record<string, (told: Detail) => Detail>>> = {
  "laboratory.change": ({ from, to }) => ({ from: settings(from), to: settings(to) }),
  "practice.begin": (told) => ({ ...told, criteria: criteria(told.criteria) }),
  "practice.setCriteria": ({ from, to }) => ({ from: criteria(from), to: criteria(to) }),
  "sheets.open": withCustomer,
  "imports.accept": (told) => ("import" in told ? told : withCustomer(told)),
  "secondReadings.enter": (told) => ({ repeat: 1, ...told }),
  "counts.open": (told) => ({ trainCautions: [], ...withCustomer(told) }),
};

/** The detail of a line of any version in the form of today. */
export function presentDetail(act: string, told: Detail): Detail {
  return FILLED[act]?.(told) ?? told;
}
