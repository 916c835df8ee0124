import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { randomIds } from "#main/ports/ids.ts";
import {
  type Layouts,
  layoutOf,
  layoutsText,
  type MeasureLayout,
  readLayouts,
  USUAL_LAYOUT,
  withLayout,
} from "#renderer/screens/measure/layout/measure-layout.ts";

const NONE: Layouts = new Map();
const ID = "0b3f6c1e-7d1a-4c55-9f0e-2f6f3f1f2a10";

describe("how the columns of a method's sheets were left", () => {
  it("is the usual until somebody changes it, and then that", () => {
    expect(layoutOf(NONE, ID)).toEqual(USUAL_LAYOUT);
    const wide: MeasureLayout = {
      stage: true,
      square: true,
      widths: { label: 12, "polar.left": 4.5 },
    };
    const kept = readLayouts(layoutsText(withLayout(NONE, ID, wide)));
    expect(layoutOf(kept, ID)).toEqual(wide);
    expect(layoutOf(kept, "another-family")).toEqual(USUAL_LAYOUT);
  });

  it("is told from that of a method defined in the same second", () => {
    const [first, second] = [randomIds.next(), randomIds.next()];
    const layouts = withLayout(NONE, first, { stage: true, square: false, widths: {} });
    expect(layoutOf(layouts, first).stage).toBe(true);
    expect(layoutOf(layouts, second).stage).toBe(false);
  });

  it("comes back from its text whatever the widths, in characters a cookie holds as they are", () => {
    const key = fc.stringMatching(/^[a-z][a-z0-9_]{0,19}\.(left|right\.2|size)$/);
    const width = fc.integer({ min: 25, max: 400 }).map((tenths) => tenths / 10);
    fc.assert(
      fc.property(
        fc.dictionary(key, width, { noNullPrototype: true }),
        fc.boolean(),
        fc.boolean(),
        (widths, stage, square) => {
          const text = layoutsText(withLayout(NONE, ID, { stage, square, widths }));
          expect(encodeURIComponent(text)).toBe(text);
          expect(layoutOf(readLayouts(text), ID)).toEqual({ stage, square, widths });
        },
      ),
    );
  });

  it("is remembered for the eight methods changed last", () => {
    let layouts = NONE;
    for (let at = 0; at < 12; at += 1) {
      layouts = withLayout(layouts, `of-many-family-${at}`.padEnd(30, String.fromCharCode(97 + at)), {
        stage: true,
        square: false,
        widths: {},
      });
    }
    expect(readLayouts(layoutsText(layouts)).size).toBe(8);
  });

  it("is the usual where the text makes no sense", () => {
    for (const text of ["", "~~", "*!", "a1b2*x!y*z!", "%00"]) {
      expect(() => readLayouts(text)).not.toThrow();
    }
    expect(layoutOf(readLayouts("3f1f2a10*label!wide*x!99"), ID)).toEqual({
      stage: false,
      square: false,
      widths: { x: 40 },
    });
  });
});
