import { z } from "zod";
import { CountingAct } from "#core/contract/records/count.ts";
import type { Outgoing } from "./counting-state.ts";

const Kept = z.array(z.strictObject({ act: CountingAct, madeAt: z.number() }));
type PressStorage = Pick<Storage, "getItem" | "setItem" | "removeItem">;

const keyOf = (countId: string): string => `linefall.presses.${countId}`;

/** Puts aside what is not stored yet, so that a reload or a crash of the window loses no press. */
export function keepPresses(storage: PressStorage, countId: string, outbox: readonly Outgoing[]): void {
  if (outbox.length === 0) storage.removeItem(keyOf(countId));
  else storage.setItem(keyOf(countId), JSON.stringify(outbox));
}

/** What an earlier window left unsent. Sent again under the same request ids, it is taken once. */
export function keptPresses(storage: PressStorage, countId: string): readonly Outgoing[] {
  try {
    return Kept.parse(JSON.parse(storage.getItem(keyOf(countId)) ?? "[]"));
  } catch {
    return [];
  }
}
