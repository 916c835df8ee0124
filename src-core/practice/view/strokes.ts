/** Numerals of our own as strokes on a grid 2 wide and 4 high, y downwards: pairs of points. */
const DIGIT_STROKES: Readonly<Record<string, readonly (readonly [number, number, number, number])[]>> = {
  "0": [
    [0, 0.6, 0, 3.4],
    [2, 0.6, 2, 3.4],
    [0, 0.6, 0.6, 0],
    [0.6, 0, 1.4, 0],
    [1.4, 0, 2, 0.6],
    [0, 3.4, 0.6, 4],
    [0.6, 4, 1.4, 4],
    [1.4, 4, 2, 3.4],
  ],
  "1": [
    [1, 0, 1, 4],
    [1, 0, 0.3, 0.8],
  ],
  "2": [
    [0, 0.7, 0.6, 0],
    [0.6, 0, 1.4, 0],
    [1.4, 0, 2, 0.7],
    [2, 0.7, 2, 1.4],
    [2, 1.4, 0, 4],
    [0, 4, 2, 4],
  ],
  "3": [
    [0, 0.4, 0.7, 0],
    [0.7, 0, 1.5, 0],
    [1.5, 0, 2, 0.6],
    [2, 0.6, 2, 1.3],
    [2, 1.3, 1.4, 1.9],
    [1.4, 1.9, 0.7, 1.9],
    [1.4, 1.9, 2, 2.5],
    [2, 2.5, 2, 3.4],
    [2, 3.4, 1.5, 4],
    [1.5, 4, 0.6, 4],
    [0.6, 4, 0, 3.5],
  ],
  "4": [
    [1.5, 4, 1.5, 0],
    [1.5, 0, 0, 2.8],
    [0, 2.8, 2, 2.8],
  ],
  "5": [
    [2, 0, 0.2, 0],
    [0.2, 0, 0, 1.8],
    [0, 1.8, 1.3, 1.6],
    [1.3, 1.6, 2, 2.3],
    [2, 2.3, 2, 3.3],
    [2, 3.3, 1.4, 4],
    [1.4, 4, 0.5, 4],
    [0.5, 4, 0, 3.5],
  ],
  "6": [
    [1.7, 0, 0.9, 0.3],
    [0.9, 0.3, 0, 1.9],
    [0, 1.9, 0, 3.4],
    [0, 3.4, 0.6, 4],
    [0.6, 4, 1.4, 4],
    [1.4, 4, 2, 3.4],
    [2, 3.4, 2, 2.5],
    [2, 2.5, 1.4, 1.9],
    [1.4, 1.9, 0.6, 1.9],
    [0.6, 1.9, 0, 2.5],
  ],
  "7": [
    [0, 0, 2, 0],
    [2, 0, 0.7, 4],
  ],
  "8": [
    [0.6, 0, 1.4, 0],
    [1.4, 0, 1.9, 0.6],
    [1.9, 0.6, 1.9, 1.3],
    [1.9, 1.3, 1.4, 1.9],
    [1.4, 1.9, 0.6, 1.9],
    [0.6, 1.9, 0.1, 1.3],
    [0.1, 1.3, 0.1, 0.6],
    [0.1, 0.6, 0.6, 0],
    [0.6, 1.9, 0, 2.5],
    [0, 2.5, 0, 3.4],
    [0, 3.4, 0.6, 4],
    [0.6, 4, 1.4, 4],
    [1.4, 4, 2, 3.4],
    [2, 3.4, 2, 2.5],
    [2, 2.5, 1.4, 1.9],
  ],
  "9": [
    [0.3, 4, 1.1, 3.7],
    [1.1, 3.7, 2, 2.1],
    [2, 2.1, 2, 0.6],
    [2, 0.6, 1.4, 0],
    [1.4, 0, 0.6, 0],
    [0.6, 0, 0, 0.6],
    [0, 0.6, 0, 1.5],
    [0, 1.5, 0.6, 2.1],
    [0.6, 2.1, 1.4, 2.1],
    [1.4, 2.1, 2, 1.5],
  ],
};

export interface Stroke {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
}

/** A number's strokes, its top in the middle at (x, y), in the unit of `height`; y downwards. */
export function numeralStrokes(value: number, x: number, y: number, height: number): readonly Stroke[] {
  const unit = height / 4;
  const text = String(value);
  const left = x - ((text.length * 3 - 1) * unit) / 2;
  return [...text].flatMap((digit, place) =>
    (DIGIT_STROKES[digit] ?? []).map(([fromX, fromY, toX, toY]) => ({
      fromX: left + (place * 3 + fromX) * unit,
      fromY: y + fromY * unit,
      toX: left + (place * 3 + toX) * unit,
      toY: y + toY * unit,
    })),
  );
}

/** Distance from a point to a stroke. */
export function distanceToStroke({ fromX, fromY, toX, toY }: Stroke, x: number, y: number): number {
  const dx = toX - fromX;
  const dy = toY - fromY;
  const along = ((x - fromX) * dx + (y - fromY) * dy) / (dx * dx + dy * dy);
  const part = Math.min(1, Math.max(0, along));
  return Math.hypot(x - fromX - part * dx, y - fromY - part * dy);
}
