import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import { statedReturnWords } from "#core/optics/lent-eyepiece.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findPerson } from "../../store/repositories/people-repository.ts";
import type { StatedReturn } from "../../workbook/sheet-book/sheet-bundle-type.ts";
import { statedReturnsSince } from "../equipment/train-fitness.ts";

/** Where factors rest on somebody's word that a lent eyepiece came back unchanged, oldest first, each once. */
export function statedReturns(db: ReadableDb, calibrations: readonly CalibrationRecord[]): StatedReturn[] {
  const events = new Map(
    calibrations.flatMap((one) => statedReturnsSince(db, one)).map((one) => [one.id, one]),
  );
  return [...events.values()]
    .sort((one, other) => (one.happenedOn < other.happenedOn ? -1 : 1))
    .map((event) => ({
      on: event.happenedOn,
      words: statedReturnWords(event, findPerson(db, event.recordedBy)?.name ?? event.recordedBy),
    }));
}
