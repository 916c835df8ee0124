/** How the micrometer's lines lie on the reticle: line number → reticle division. */
export interface ScalesMatch {
  readonly reticleLeft: number;
  readonly lineLeft: number;
  /** Reticle divisions from one line to the next. */
  readonly divisionsPerLine: number;
}

export interface Line {
  readonly number: number;
  /** Place in reticle divisions. */
  readonly at: number;
  readonly length: "long" | "middle" | "short";
}

/** Place of a line in reticle divisions. */
export function placeOfLine(match: ScalesMatch, line: number): number {
  return match.reticleLeft + (line - match.lineLeft) * match.divisionsPerLine;
}

export function lengthOf(number: number): Line["length"] {
  if (number % 10 === 0) return "long";
  return number % 5 === 0 ? "middle" : "short";
}

export function reticleLines(divisions: number): readonly Line[] {
  return Array.from({ length: divisions + 1 }, (_, number) => ({
    number,
    at: number,
    length: lengthOf(number),
  }));
}

/** More lines than this in sight are thinned to every tenth, as the eye would see them run together. */
const MOST_LINES = 500;

/** The micrometer's lines that lie within the reticle's scale, a little margin included. */
export function linesInSight(
  match: ScalesMatch,
  micrometerDivisions: number,
  reticleDivisions: number,
  margin: number,
): readonly Line[] {
  if (!(match.divisionsPerLine > 0)) return [];
  const first = Math.max(
    0,
    Math.ceil(match.lineLeft + (-margin - match.reticleLeft) / match.divisionsPerLine),
  );
  const last = Math.min(
    micrometerDivisions,
    Math.floor(match.lineLeft + (reticleDivisions + margin - match.reticleLeft) / match.divisionsPerLine),
  );
  const step = last - first > MOST_LINES ? 10 : 1;
  const lines: Line[] = [];
  for (let number = Math.ceil(first / step) * step; number <= last; number += step) {
    lines.push({ number, at: placeOfLine(match, number), length: lengthOf(number) });
  }
  return lines;
}

export interface Coincidence {
  readonly line: number;
  readonly division: number;
}

/** Lines that stand on a division of the reticle, within `tolerance` divisions. */
export function coincidences(
  lines: readonly Line[],
  reticleDivisions: number,
  tolerance: number,
): readonly Coincidence[] {
  return lines.flatMap(({ number, at }) => {
    const division = Math.round(at);
    const isOn = Math.abs(at - division) <= tolerance && division >= 0 && division <= reticleDivisions;
    return isOn ? [{ line: number, division }] : [];
  });
}
