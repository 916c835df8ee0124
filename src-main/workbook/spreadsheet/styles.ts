import type { Style } from "exceljs";

/**
 * One object per look, shared by every cell that wears it: the writer caches styles by object identity, so a fresh
 * object per cell would cost more than everything else together.
 */
type Look = Partial<Style>;

const font = { name: "Calibri", size: 11 } as const;
const line = { style: "thin", color: { argb: "FFB8C0C8" } } as const;
const paper = { type: "pattern", pattern: "solid", fgColor: { argb: "FFE9EEF2" } } as const;
const input = { type: "pattern", pattern: "solid", fgColor: { argb: "FFFFF8E1" } } as const;

const top = { vertical: "top" } as const;
const left = { vertical: "top", horizontal: "left", indent: 1 } as const;
const wrapped = { ...left, wrapText: true } as const;

const number = (numFmt: string, more: Look = {}): Look => ({ font, numFmt, alignment: top, ...more });

export const LOOKS = {
  title: { font: { ...font, size: 16, bold: true } },
  heading: { font: { ...font, size: 12, bold: true }, border: { bottom: line } },
  column: { font: { ...font, bold: true }, fill: paper, border: { bottom: line }, alignment: wrapped },
  field: { font: { ...font, bold: true }, alignment: { ...top, wrapText: true } },
  /** `@`: a cell that holds typed text stays text when somebody edits it. */
  text: { font, numFmt: "@", alignment: left },
  wrapped: { font, numFmt: "@", alignment: wrapped },
  /** Text that a formula puts together: a cell in text format would show the formula once it is edited. */
  words: { font, alignment: wrapped },
  caution: { font: { ...font, bold: true, color: { argb: "FF8A1C00" } }, numFmt: "@", alignment: wrapped },
  struck: { font: { ...font, strike: true, color: { argb: "FF6B6B6B" } }, numFmt: "@", alignment: left },
  signature: { border: { bottom: line } },
  whole: number("0"),
  wholeLeft: number("0", { alignment: left }),
  /** Readings as typed: their text column shows the places that were read. */
  reading: number("0.0##########", { fill: input }),
  divisions: number("0.0##########"),
  factor: number("0.00000#"),
  micrometres: number("0.00"),
  uncertainty: number("0.000#"),
  /** Ratios, areas and volumes: six figures, whatever their size. */
  derived: number("0.0#####"),
  contribution: number("0.0000000"),
  small: number("0.000000E+00"),
  plain: number("General"),
  plainLeft: number("General", { alignment: left }),
  /** Bars of a histogram. */
  bar: { font: { ...font, color: { argb: "FF2F5D7C" } }, alignment: top },
  coverage: number("0.000"),
  freedom: number("0.0"),
  share: number("0.0%"),
  given: number("General", { fill: input }),
  date: number("yyyy-mm-dd", { alignment: left }),
  instant: number("yyyy-mm-dd hh:mm:ss", { alignment: left }),
} satisfies Record<string, Look>;

export type LookName = keyof typeof LOOKS;

const flagged = { type: "pattern", pattern: "solid", bgColor: { argb: "FFFFE8B3" } } as const;
const missing = { type: "pattern", pattern: "solid", bgColor: { argb: "FFF6D5D0" } } as const;

/** What a rule adds to the cells it marks; words in the row say the same, so colour is never the only sign. */
export const MARKS = {
  struck: { font: { strike: true, color: { argb: "FF6B6B6B" } } },
  flagged: { fill: flagged },
  missing: { fill: missing },
} satisfies Record<string, Look>;
