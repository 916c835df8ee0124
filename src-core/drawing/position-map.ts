/** A position on the stage, in whatever unit both directions share; y grows upwards. */
export interface StagePoint {
  readonly x: number;
  readonly y: number;
}

/** Its place in a drawing of 0…1, from the left and from below. */
export interface MappedPoint {
  readonly across: number;
  readonly up: number;
}

/** Positions to one scale in both directions, in the middle of the drawing; a single one lies at its centre. */
export function mappedPoints<P extends StagePoint>(points: readonly P[]): readonly (P & MappedPoint)[] {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { x, y } of points) {
    [left, right] = [Math.min(left, x), Math.max(right, x)];
    [low, high] = [Math.min(low, y), Math.max(high, y)];
  }
  const [width, height] = [right - left, high - low];
  const side = Math.max(width, height) || 1;
  return points.map((one) => ({
    ...one,
    across: (one.x - left + (side - width) / 2) / side,
    up: (one.y - low + (side - height) / 2) / side,
  }));
}
