import type { PathLook, TextLook } from "./mark.ts";

interface PathStyle {
  readonly fill?: string;
  readonly fillOpacity?: number;
  readonly stroke?: string;
  readonly width?: number;
  readonly dash?: string;
  readonly roundEnds?: true;
}

interface TextStyle {
  readonly fill: string;
  /** px */
  readonly size: number;
  readonly bold?: true;
}

const INK = "#1a1712";
const SOFT = "#4a443a";
const BRASS = "#8a5a00";
const RED = "#9b1c1c";

/**
 * Lines and marks on white. Each line has a pattern and each mark a shape or filling of its own, so that a grey print
 * says the same as the colours.
 */
export const PATH_STYLES: Readonly<Record<PathLook, PathStyle>> = {
  grid: { stroke: "#dedad2", width: 1 },
  axis: { stroke: "#77705f", width: 1 },
  leader: { stroke: "#77705f", width: 0.8 },
  tolerance: { fill: "#8f866f", fillOpacity: 0.13 },
  toleranceEdge: { stroke: SOFT, width: 1.4, dash: "10 3 2 3" },
  nominal: { stroke: SOFT, width: 1.2, dash: "2 5" },
  centre: { stroke: SOFT, width: 1.4 },
  warning: { stroke: BRASS, width: 1.2, dash: "4 4" },
  action: { stroke: RED, width: 1.4, dash: "9 4" },
  drift: { stroke: BRASS, width: 2.2 },
  driftBand: { fill: BRASS, fillOpacity: 0.14 },
  break: { stroke: INK, width: 1, dash: "2 3" },
  bars: { stroke: "#5f5848", width: 1.2 },
  haze: { stroke: "#d3cec3", width: 2 },
  dots: { stroke: BRASS, width: 4, roundEnds: true },
  filled: { fill: INK, stroke: INK, width: 1 },
  hollow: { fill: "#fff", stroke: INK, width: 1.4 },
  grey: { fill: "#a39c8c", stroke: INK, width: 1 },
  leftOut: { stroke: RED, width: 2 },
  failed: { stroke: RED, width: 2 },
  check: { stroke: SOFT, width: 1.4 },
  ring: { stroke: RED, width: 1.6 },
};

export const TEXT_STYLES: Readonly<Record<TextLook, TextStyle>> = {
  axisText: { fill: SOFT, size: 13 },
  endText: { fill: SOFT, size: 13 },
  person: { fill: SOFT, size: 12 },
  rule: { fill: RED, size: 13, bold: true },
  flag: { fill: INK, size: 13, bold: true },
  title: { fill: INK, size: 20, bold: true },
  words: { fill: INK, size: 14 },
  small: { fill: SOFT, size: 12 },
};
