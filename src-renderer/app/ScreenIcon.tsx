import type { ScreenName } from "../window/location.ts";

const STROKE = { fill: "none", stroke: "currentColor", strokeWidth: 1.6, strokeLinecap: "round" } as const;

/** Line drawings of our own, on a grid of 24. */
const DRAWINGS = {
  // Two scales meeting in one line.
  mark: "M2 12H22 M4 12V7 M8 12V9 M16 12V9 M20 12V7 M12 3V21 M5.5 12V15 M9 12V14.5 M15 12V14.5 M18.5 12V15",
  // A turret with three objectives.
  bench: "M4 9a8 6 0 0 1 16 0Z M6 9 4.5 14.5 8 15.5 9 9 M10.5 9V18h3V9 M15 9l1 6.5 3.5-1L18 9",
  // One scale over another.
  calibrate:
    "M3 8H21 M5 8V4 M9 8V5.5 M13 8V4 M17 8V5.5 M3 16H21 M5 16v4 M10 16v2.5 M15 16v4 M20 16v2.5 M5 8V16",
  // An object between two edges.
  measure: "M5 4V20 M19 4V20 M5 12H8 M16 12H19 M8 12a4 3.2 0 0 0 8 0 4 3.2 0 0 0-8 0Z",
  // Five strokes of a tally.
  count: "M5 5V19 M9.5 5V19 M14 5V19 M18.5 5V19 M3 15.5 21 8.5",
  // Points with error bars along a line.
  trends: "M3 4V20H21 M7 10V16 M12 7.5V13.5 M17 5V11 M5 15.5 20 5.5",
  // A drawer of cards.
  registers: "M4 5H20V19H4Z M4 12H20 M10 8.5H14 M10 15.5H14",
  // A sheet with rows.
  records: "M6 3H15L19 7V21H6Z M15 3V7H19 M9 11H16 M9 14H16 M9 17H13",
  // A result, and the chain that leads back from it.
  trace:
    "M3 8h5a3 3 0 0 1 0 6H6a3 3 0 0 1-3-3 M21 16h-5a3 3 0 0 1 0-6h2a3 3 0 0 1 3 3 M9.5 11.5l5 1.2 M12 3v4 M12 17v4",
  // The round field of an eyepiece with its scale.
  practice:
    "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18Z M5.5 13H18.5 M7 13V10 M10.3 13V11 M13.7 13V11 M17 13V10 M12 13V16",
  // Three scales, each with its slider.
  settings: "M3 6H21 M3 12H21 M3 18H21 M8 4v4 M16 10v4 M11 16v4",
  // An open book.
  about:
    "M12 6C10 4.5 7 4 4 4.5V18.5C7 18 10 18.5 12 20 14 18.5 17 18 20 18.5V4.5C17 4 14 4.5 12 6Z M12 6V20",
} as const satisfies Record<ScreenName | "mark", string>;

export function ScreenIcon({ screen }: { screen: keyof typeof DRAWINGS }) {
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true">
      <path d={DRAWINGS[screen]} {...STROKE} strokeLinejoin="round" />
    </svg>
  );
}
