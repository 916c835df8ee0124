import type { TypedSetting } from "#core/contract/records/calibration.ts";
import type { Decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { ScalesMark } from "../../charts/ScalesDrawing.tsx";
import type { ScalesMatch } from "../../charts/scales-geometry.ts";
import { isBlankSetting } from "./settings-rows.ts";

export interface MatchedScales {
  readonly match: ScalesMatch;
  readonly marks: readonly ScalesMark[];
  /** True when both ends of a setting have been read: the drawing shows what was seen. */
  readonly isRead: boolean;
}

function numberOf(text: string): number | null {
  try {
    return readDecimal("number", text).value.toNumber();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/**
 * How the scales lie to each other by the setting the person is at; what is not typed yet is taken from the factor
 * so far, or before the first setting from the one that the engravings lead one to expect.
 * @param expectedDivisions divisions from one micrometer line to the next by that factor
 */
export function matchScales(setting: TypedSetting | undefined, expectedDivisions: number): MatchedScales {
  const read = (key: keyof TypedSetting): number | null => (setting ? numberOf(setting[key]) : null);
  const [left, right] = [read("reticleLeft"), read("reticleRight")];
  const [from, to] = [read("lineLeft"), read("lineRight")];
  const marks: ScalesMark[] = [];
  if (left !== null && from !== null) marks.push({ division: left, line: from });
  if (right !== null && to !== null) marks.push({ division: right, line: to });
  const isWhole = left !== null && right !== null && from !== null && to !== null;
  if (isWhole && right > left && to > from) {
    return {
      match: { reticleLeft: left, lineLeft: from, divisionsPerLine: (right - left) / (to - from) },
      marks,
      isRead: true,
    };
  }
  return {
    match: { reticleLeft: left ?? 0, lineLeft: from ?? 0, divisionsPerLine: expectedDivisions },
    marks,
    isRead: false,
  };
}

/** The setting to draw: the one the person is at, or the last that holds anything. */
export function settingToDraw(settings: readonly TypedSetting[], at: number): TypedSetting | undefined {
  const here = settings[at];
  return here && !isBlankSetting(here) ? here : settings.findLast((one) => !isBlankSetting(one));
}

/** One sentence for people who do not see the drawing. */
export function matchWords({ match, marks, isRead }: MatchedScales, pitchUm: Decimal): string {
  const step = match.divisionsPerLine.toPrecision(4);
  const each = `One micrometer division (${pitchUm.toFixed()} µm) covers ${step} reticle divisions`;
  const read = marks.map((mark) => `${mark.division} div stands on line ${mark.line}`).join(", ");
  if (isRead) return `${each}: ${read}.`;
  return `${each} by the factor expected${read ? `; ${read}` : ""}. The drawing follows as you read.`;
}
