import type { ReactNode } from "react";
import { Alignment } from "./Alignment.tsx";
import { Borders } from "./Borders.tsx";
import { Chain } from "./Chain.tsx";
import { Coverage } from "./Coverage.tsx";
import { Edges } from "./Edges.tsx";
import { Slides } from "./Slides.tsx";
import { Tenths } from "./Tenths.tsx";
import { TwoObjectives } from "./TwoObjectives.tsx";

/** The drawings of the handbook by the name that its pages use. */
export const DRAWING_OF: Readonly<Record<string, () => ReactNode>> = {
  alignment: Alignment,
  tenths: Tenths,
  edges: Edges,
  coverage: Coverage,
  "two-objectives": TwoObjectives,
  slides: Slides,
  chain: Chain,
  borders: Borders,
};
