/** What a path of a drawing stands for; each medium has its own line for it. */
export type PathLook =
  | "grid"
  | "axis"
  | "tolerance"
  | "toleranceEdge"
  | "nominal"
  | "centre"
  | "warning"
  | "action"
  | "drift"
  | "driftBand"
  | "break"
  | "bars"
  | "haze"
  | "dots"
  | "leftOut"
  | "failed"
  | "check"
  | "ring"
  | "leader"
  | "filled"
  | "hollow"
  | "grey";

/** What a text of a drawing is. */
export type TextLook = "axisText" | "endText" | "rule" | "flag" | "person" | "title" | "words" | "small";

export interface PathMark {
  readonly look: PathLook;
  /** SVG path data, in the unit of the drawing. */
  readonly d: string;
}

export interface TextMark {
  readonly look: TextLook;
  readonly words: string;
  readonly x: number;
  /** Of the base line; of the middle of the text where `centred`. */
  readonly y: number;
  readonly anchor: "start" | "middle" | "end";
  readonly centred?: boolean;
  /** Reads upwards. */
  readonly upwards?: boolean;
}

/** One thing that is drawn; a later one covers an earlier one. */
export type Mark = PathMark | TextMark;

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Marks of which some are seen only inside a box. */
export interface ClippedMarks {
  readonly behind: readonly Mark[];
  readonly box: Box;
  readonly inside: readonly Mark[];
  readonly over: readonly Mark[];
}

/** How a micrometer's marks are filled, in the order the micrometers appear. */
export const FILLS = ["filled", "hollow", "grey"] as const satisfies readonly PathLook[];
