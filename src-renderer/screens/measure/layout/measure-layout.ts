import type { ColumnWidths } from "../../../grid/column-widths.ts";
import { possibleWidth } from "../../../grid/column-widths.ts";

/** How a person wants the columns of the sheets of one method. */
export interface MeasureLayout {
  /** Stage coordinates are asked for. */
  readonly stage: boolean;
  /** The square of a finder slide is asked for. */
  readonly square: boolean;
  readonly widths: ColumnWidths;
}

export const USUAL_LAYOUT: MeasureLayout = { stage: false, square: false, widths: {} };

/** Layouts by the family of the method, the one changed last first. */
export type Layouts = ReadonlyMap<string, MeasureLayout>;

/** Methods whose layout is remembered: what fits a cookie. */
const MOST_FAMILIES = 8;
/** A family is told by the end of its id: the beginning is the time at which it was made. */
const ID_LENGTH = 8;

const shortId = (familyId: string): string => familyId.slice(-ID_LENGTH);

export function layoutOf(layouts: Layouts, familyId: string): MeasureLayout {
  return layouts.get(shortId(familyId)) ?? USUAL_LAYOUT;
}

export function withLayout(layouts: Layouts, familyId: string, layout: MeasureLayout): Layouts {
  const id = shortId(familyId);
  const others = [...layouts].filter(([other]) => other !== id);
  return new Map([[id, layout] as const, ...others].slice(0, MOST_FAMILIES));
}

/** `a1b2c3d4*stage*square*label!12*polar.left!4.5~…`: characters that a cookie holds as they are. */
export function layoutsText(layouts: Layouts): string {
  return [...layouts]
    .map(([id, { stage, square, widths }]) => {
      const columns = Object.entries(widths).map(([key, width]) => `${key}!${width}`);
      return [id, ...(stage ? ["stage"] : []), ...(square ? ["square"] : []), ...columns].join("*");
    })
    .join("~");
}

/** What cannot be read is left out. */
export function readLayouts(text: string): Layouts {
  const layouts = new Map<string, MeasureLayout>();
  for (const family of text.split("~").slice(0, MOST_FAMILIES)) {
    const [id, ...parts] = family.split("*");
    if (!id) continue;
    const widths = parts.flatMap((part) => {
      const [key, width] = part.split("!");
      const rem = Number(width);
      return key && width && Number.isFinite(rem) ? [[key, possibleWidth(rem)] as const] : [];
    });
    layouts.set(id, {
      stage: parts.includes("stage"),
      square: parts.includes("square"),
      widths: Object.fromEntries(widths),
    });
  }
  return layouts;
}
