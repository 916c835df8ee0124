import type { EquipmentEvent } from "../contract/records/equipment-event.ts";
import { asSentence } from "../quantity/as-sentence.ts";

const LOANS: ReadonlySet<EquipmentEvent["kind"]> = new Set(["lent", "brought back"]);

/** Whether a kind of event says where an eyepiece is. */
export function isLoan(kind: EquipmentEvent["kind"]): boolean {
  return LOANS.has(kind);
}

/** With which event an eyepiece left, of events newest first; null while it is there. */
export function loanOf<Event extends Pick<EquipmentEvent, "kind" | "subject">>(
  events: readonly Event[],
  eyepieceId: string,
): Event | null {
  const last = events.find(({ kind, subject }) => isLoan(kind) && subject.id === eyepieceId);
  return last?.kind === "lent" ? last : null;
}

/** Since when and to whom, as it follows “The eyepiece”. */
export function lentWords({ happenedOn, words }: Pick<EquipmentEvent, "happenedOn" | "words">): string {
  return `is lent since ${happenedOn}: ${asSentence(words)}`;
}

/**
 * Whether an event leaves its trains to be checked. Equipment that was outside the laboratory's control is checked before
 * it is used again (ISO/IEC 17025:2005, 5.5.9, and 2017, 6.4.4; both from memory), unless somebody answers for it.
 */
export function asksForCheck({ kind, unchanged }: Pick<EquipmentEvent, "kind" | "unchanged">): boolean {
  return kind !== "lent" && unchanged !== true;
}

/** A return that factors rest on, as it is printed beside results. */
export function statedReturnWords(
  { happenedOn, words }: Pick<EquipmentEvent, "happenedOn" | "words">,
  name: string,
): string {
  return `The eyepiece was lent and brought back on ${happenedOn}. Its factor was not checked since: ${name} states that nothing was changed (“${words}”).`;
}

/** What happened, with the statement that goes with it. */
export function eventWords({ kind, unchanged }: Pick<EquipmentEvent, "kind" | "unchanged">): string {
  return unchanged ? `${kind}, nothing changed` : kind;
}
