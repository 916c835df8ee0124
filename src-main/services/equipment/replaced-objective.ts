import { objectiveWords } from "#core/optics/train-name.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { replacementOfObjective } from "../../store/repositories/microscope-repository.ts";

/** Which objective took the place of one, since when; null when it was on the turret on that day. */
export function whyReplaced(db: ReadableDb, objectiveId: string, day: string): string | null {
  const found = replacementOfObjective(db, objectiveId, day);
  if (!found) return null;
  const { left, next } = found;
  const words = next ? `${objectiveWords(next)}${next.serial ? `, no. ${next.serial},` : ""}` : "another one";
  return `The ${objectiveWords(left)} left turret position ${left.position} on ${left.replaced?.on}: the ${words} took its place.`;
}

/**
 * Nothing new is read with an objective that is not on the turret any more.
 * @throws Refusal `item.out-of-service`
 */
export function requireOnTurret(
  db: ReadableDb,
  { objectiveId }: { readonly objectiveId: string },
  today: string,
  field: string,
): void {
  const why = whyReplaced(db, objectiveId, today);
  if (why === null) return;
  throw new Refusal("item.out-of-service", why, {
    field,
    hint: "Choose the objective that is at this position now; it asks to be calibrated before it measures.",
  });
}
