import type { TrainStatus } from "#core/contract/records/bench.ts";
import type { Objective } from "#core/contract/records/microscope.ts";

/** The places of a turret from 1 to the last one used, at least three; null: no objective there. */
export function turretPlaces(objectives: readonly Objective[]): readonly (Objective | null)[] {
  const last = Math.max(3, ...objectives.map((objective) => objective.position));
  return Array.from(
    { length: last },
    (_, index) => objectives.find((objective) => objective.position === index + 1) ?? null,
  );
}

/** Trains that differ only in the objective, together: one group per eyepiece and intermediate magnification. */
export function groupTrains(trains: readonly TrainStatus[]): readonly (readonly TrainStatus[])[] {
  const groups = new Map<string, TrainStatus[]>();
  for (const status of trains) {
    const key = `${status.train.eyepieceId} ${status.train.intermediateMagnification}`;
    groups.set(key, [...(groups.get(key) ?? []), status]);
  }
  return [...groups.values()];
}
