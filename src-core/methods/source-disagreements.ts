/** One answer to a question on which published sources differ. */
export interface SourcePosition {
  readonly says: string;
  readonly who: string;
}

/** A point on which sources contradict each other; the program makes it a choice and prints what was chosen. */
export interface SourceDisagreement {
  readonly id: string;
  readonly point: string;
  readonly positions: readonly SourcePosition[];
  /** What the program does about it. */
  readonly here: string;
}

/** Points of the trade on which published sources differ; the last answer of a list need not be the better one. */
export const SOURCE_DISAGREEMENTS: readonly SourceDisagreement[] = [
  {
    id: "calibration-interval",
    point: "How often the reticle is calibrated",
    positions: [
      { says: "once per microscope", who: "parasitology teaching sheet" },
      { says: "yearly, and after a change or a knock", who: "parasitology quality-control pages" },
      { says: "at every change of eyepiece, objective, reticle or zoom", who: "thesis on fibre counting" },
    ],
    here: "the laboratory sets the due date of each calibration",
  },
  {
    id: "etched-face",
    point: "Which way the etched face of the reticle lies",
    positions: [
      { says: "towards the objective", who: "one hardware fitting note" },
      { says: "upwards", who: "another hardware fitting note" },
    ],
    here: "the numerals must be upright and sharp together with the specimen",
  },
  {
    id: "edge-rule",
    point: "Which edges of a counting square count",
    positions: [
      { says: "top and left out, bottom and right in", who: "phytoplankton procedure (EN 15204 tradition)" },
      { says: "top and right in, bottom and left out", who: "haemocytometer teaching" },
    ],
    here: "chosen per count",
  },
  {
    id: "fibre-aspect",
    point: "Length to width of a fibre",
    positions: [
      { says: "at least 3:1", who: "NIOSH 7400 A rules" },
      { says: "more than 3:1", who: "WHO 1997, HSG248" },
    ],
    here: "follows the fibre rule chosen",
  },
  {
    id: "fibre-width",
    point: "Width of a fibre",
    positions: [
      { says: "no limit", who: "NIOSH 7400 A rules" },
      { says: "less than 3 µm", who: "WHO 1997, HSG248" },
    ],
    here: "follows the fibre rule chosen",
  },
  {
    id: "obscured-field",
    point: "When an obscured field is left out",
    positions: [
      { says: "more than 1/8 covered", who: "revision notes on the WHO rules" },
      { says: "1/6 or more covered", who: "thesis on fibre counting" },
    ],
    here: "follows the fibre rule chosen",
  },
  {
    id: "spore-range",
    point: "Inner range of spore sizes",
    positions: [
      { says: "5 to 95 %", who: "Tulloss and Lindgren 2005" },
      { says: "10 to 90 %", who: "from memory, no particular document" },
      { says: "the mean in the middle of the range", who: "mycology teaching pages" },
    ],
    here: "percentiles, their definition and the template are chosen",
  },
  {
    id: "honey-edge",
    point: "Honey pollen between important minor and secondary",
    positions: [
      { says: "3–15 % and 16–45 %, nothing said of 15.5 %", who: "Louveaux, Maurizio and Vorwohl 1978" },
      { says: "3–16 %", who: "other honey texts" },
    ],
    here: "two tables; a value in the gap is put to the person",
  },
  {
    id: "pollen-size",
    point: "Limits of the pollen size classes",
    positions: [
      { says: "10, 25, 50, 100, 200 µm", who: "Erdtman, in articles on pollen size" },
      { says: "15, 25, 50, 100 µm", who: "help page of a pollen identification key" },
    ],
    here: "two tables, and the laboratory's own",
  },
  {
    id: "plankton-precision",
    point: "Precision of a plankton count",
    positions: [
      { says: "2/√n", who: "Lund, Kipling and Le Cren 1958 (from memory)" },
      { says: "from the scatter between fields; drop 2/√n", who: "Salonen, Salmi and Keskitalo 2021" },
    ],
    here: "the scatter decides where objects cluster; 2/√n is shown as optimistic",
  },
  {
    id: "scaling-between-objectives",
    point: "Scaling one factor to another objective by magnification",
    positions: [
      { says: "allowed", who: "school slides" },
      { says: "each objective on its own", who: "graticule maker's sheet; parasitology and college pages" },
    ],
    here: "each objective has its own calibration",
  },
  {
    id: "factor-meaning",
    point: "What the calibration factor is",
    positions: [
      { says: "µm per division", who: "microscope maker's operating manual" },
      { says: "reticle divisions per stage division", who: "particle-count graticule maker" },
    ],
    here: "µm per division, and the unit is always printed",
  },
];
