import type { Decimal } from "../quantity/decimal.ts";
import { InputError, requireFinite } from "../quantity/input-error.ts";
import { memberAt } from "../statistics/sample.ts";

/** A value of a history at a day, counted from any fixed day; part days are allowed. */
export interface HistoryPoint {
  readonly day: Decimal;
  readonly value: Decimal;
}

/** Something that happened to the train or the reference: a service, a new eyepiece, a new certificate. */
export interface HistoryEvent {
  readonly day: Decimal;
  /** True when values before and after must not be charted as one series. */
  readonly breaks: boolean;
}

export interface Baseline<P extends HistoryPoint, E extends HistoryEvent> {
  readonly points: readonly P[];
  /** What began this baseline; null for the first. */
  readonly begunBy: E | null;
}

/** @throws InputError naming `field.i.day` when days fall, or when a number is not finite */
export function requireHistory(field: string, points: readonly HistoryPoint[]): void {
  points.forEach((point, index) => {
    requireFinite(`${field}.${index}.day`, point.day);
    requireFinite(`${field}.${index}.value`, point.value);
    if (index > 0 && point.day.lessThan(memberAt(points, index - 1).day)) {
      throw new InputError(`${field}.${index}.day`, "must not lie before the point above it");
    }
  });
}

/**
 * Cuts a history at the events that break it. A value of the same day belongs after the event, because a calibration
 * follows the service that asked for it. Of several breaks without a value between them the last one counts. A break
 * after the last value gives a last baseline that is still empty.
 * @throws InputError when the points are not in order of time
 */
export function baselines<P extends HistoryPoint, E extends HistoryEvent>(
  points: readonly P[],
  events: readonly E[],
): Baseline<P, E>[] {
  requireHistory("points", points);
  const breaks = events.filter((event) => event.breaks).sort((a, b) => a.day.cmp(b.day));
  const beginnings: (E | null)[] = [null, ...breaks];
  const found = beginnings.map((begunBy, index) => {
    const end = breaks[index];
    return {
      begunBy,
      points: points.filter(
        ({ day }) =>
          (begunBy === null || !day.lessThan(begunBy.day)) && (end === undefined || day.lessThan(end.day)),
      ),
    };
  });
  return found.filter((baseline, index) => baseline.points.length > 0 || index === found.length - 1);
}
