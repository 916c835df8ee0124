import type { DueItem } from "#core/contract/records/due-work.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { Location } from "../../window/location.ts";

/** How long there is left, for people. */
export function daysWords(daysLeft: number): string {
  const days = Math.abs(daysLeft);
  const words = countedNoun(days, "day");
  if (daysLeft === 0) return "today";
  return daysLeft < 0 ? `overdue since ${words}` : `in ${words}`;
}

const DO: Readonly<Record<DueItem["kind"], string>> = {
  calibration: "Calibrate",
  certificate: "Enter it",
  check: "Check",
  event: "Check",
  "replaced certificate": "Re-evaluate",
  practice: "Practise",
};

/** What is to be done about it. */
export function dueWords({ kind }: Pick<DueItem, "kind">): string {
  return DO[kind];
}

/** What is due, its kind first. */
export function whatWords({ kind, what }: Pick<DueItem, "kind" | "what">): string {
  const words = what.startsWith(kind) ? what : `${kind} of ${what}`;
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Where it is done. */
export function placeOfDue(
  item: Pick<DueItem, "kind" | "id" | "trainId">,
  micrometers: readonly StageMicrometer[],
): Location {
  if (item.kind === "certificate") {
    const owner = micrometers.find((one) => one.certificates.some(({ id }) => id === item.id));
    return { screen: "registers", register: "micrometers", recordId: owner?.id ?? null, form: null };
  }
  if (item.kind === "replaced certificate") {
    return { screen: "trace", result: null, subject: { kind: "certificate", id: item.id } };
  }
  if (item.kind === "practice") return { screen: "practice", part: "exercises", attemptId: null };
  const place = { screen: "calibrate", trainId: item.trainId, calibrationId: null } as const;
  return item.kind === "calibration" ? place : { ...place, check: true };
}
