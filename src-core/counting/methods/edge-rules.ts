import { NO_SOURCE, PLANKTON_PROTOCOL } from "../../vocabulary/literature.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

export const FRAME_EDGES = ["top", "right", "bottom", "left"] as const;
export type FrameEdge = (typeof FRAME_EDGES)[number];

/** Which edges of a square counting area make an object that crosses them count. Bodies differ, so it is chosen and printed. */
export interface EdgeRule extends Provenance {
  readonly id: string;
  readonly name: string;
  readonly counted: readonly FrameEdge[];
}

export const TOP_LEFT_OUT: EdgeRule = {
  id: "bottom-right-in",
  name: "bottom and right in, top and left out",
  counted: ["bottom", "right"],
  source: `${PLANKTON_PROTOCOL}, rule of CEN (2006) for fields`,
  standing: "published",
};

export const BOTTOM_LEFT_OUT: EdgeRule = {
  id: "top-right-in",
  name: "top and right in, bottom and left out",
  counted: ["top", "right"],
  source: `${NO_SOURCE}: haemocytometer teaching`,
  standing: "common practice",
};

export const UNBIASED_FRAME: EdgeRule = {
  id: "left-bottom-in",
  name: "left and bottom in, right and top out",
  counted: ["left", "bottom"],
  source: "H. J. G. Gundersen (1977), unbiased counting frame, mirrored",
  standing: "from memory",
};

export const EDGE_RULES: readonly EdgeRule[] = [TOP_LEFT_OUT, BOTTOM_LEFT_OUT, UNBIASED_FRAME];

/** Does an object that crosses these edges count? None crossed: yes. One excluded edge crossed: no, whatever else. */
export function countsAtEdges(crossed: readonly FrameEdge[], rule: EdgeRule): boolean {
  return crossed.every((edge) => rule.counted.includes(edge));
}
