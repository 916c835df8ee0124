/** One known reason why a factor differs from the nominal one by a telling ratio. */
export interface DetectiveEntry {
  /** measured / nominal. */
  readonly ratio: string;
  readonly cause: string;
  readonly whatToDo: string;
  readonly origin: "common practice, no source" | "computed from the engraved values" | "from memory";
}

const ENGRAVED = "computed from the engraved values" as const;
const MEMORY = "from memory" as const;

const CHANGERS: readonly string[] = ["1.25", "1.5", "1.6", "2"];
/** measured/nominal with the changer in although 1× was entered, to four digits. */
const WITH_CHANGER: Readonly<Record<string, string>> = {
  "1.25": "0.8",
  "1.5": "0.6667",
  "1.6": "0.625",
  "2": "0.5",
};

function changerEntries(): DetectiveEntry[] {
  return CHANGERS.flatMap((power): DetectiveEntry[] => [
    {
      ratio: WITH_CHANGER[power] ?? "1",
      cause: `The magnification changer stood at ${power}× but was entered as 1×`,
      whatToDo: "Look at the changer, set it to 1× or choose the train with this setting, and read again.",
      origin: ENGRAVED,
    },
    {
      ratio: power,
      cause: `The magnification changer stood at 1× but was entered as ${power}×`,
      whatToDo: "Look at the changer, and choose the train that fits it.",
      origin: ENGRAVED,
    },
  ]);
}

/** The telling ratios, data only. Ratios of the turret's own objectives are added when it is known. */
export const DETECTIVE_TABLE: readonly DetectiveEntry[] = [
  ...changerEntries(),
  {
    ratio: "0.5",
    cause: "The reticle's scale is 5 mm long but was entered as 10 mm",
    whatToDo: "Read the engraving of the reticle and correct its length in the register.",
    origin: ENGRAVED,
  },
  {
    ratio: "2",
    cause: "The reticle's scale is 10 mm long but was entered as 5 mm",
    whatToDo: "Read the engraving of the reticle and correct its length in the register.",
    origin: ENGRAVED,
  },
  {
    ratio: "0.9",
    cause: "An objective made for a 180 mm tube lens is used with a 200 mm one",
    whatToDo: "Compare the makers of objective and stand; the factor is right for this mixed train.",
    origin: MEMORY,
  },
  {
    ratio: "1.1111",
    cause: "An objective made for a 200 mm tube lens is used with a 180 mm one",
    whatToDo: "Compare the makers of objective and stand; the factor is right for this mixed train.",
    origin: MEMORY,
  },
  {
    ratio: "0.8225",
    cause: "An objective made for a 164.5 mm tube lens is used with a 200 mm one",
    whatToDo: "Compare the makers of objective and stand; the factor is right for this mixed train.",
    origin: MEMORY,
  },
  {
    ratio: "0.825",
    cause: "An objective made for a 165 mm tube lens is used with a 200 mm one",
    whatToDo: "Compare the makers of objective and stand; the factor is right for this mixed train.",
    origin: MEMORY,
  },
  {
    ratio: "1.2121",
    cause: "An objective made for a 200 mm tube lens is used with a 165 mm one",
    whatToDo: "Compare the makers of objective and stand; the factor is right for this mixed train.",
    origin: MEMORY,
  },
  {
    ratio: "0.25",
    cause: "The objective has four times the magnification entered (40× used for 10×)",
    whatToDo: "Look at the objective under the stage and choose its own train.",
    origin: ENGRAVED,
  },
  {
    ratio: "4",
    cause: "The objective has a quarter of the magnification entered (10× used for 40×)",
    whatToDo: "Look at the objective under the stage and choose its own train.",
    origin: ENGRAVED,
  },
  {
    ratio: "0.1",
    cause:
      "The micrometer's lines were taken as ten times too close (0.1 mm lines counted as 0.01 mm), or divisions as ten times too many",
    whatToDo: "Read the engraving of the stage micrometer: length of its scale and number of parts.",
    origin: ENGRAVED,
  },
  {
    ratio: "10",
    cause: "The micrometer's lines were taken as ten times too far apart (0.01 mm lines counted as 0.1 mm)",
    whatToDo: "Read the engraving of the stage micrometer: length of its scale and number of parts.",
    origin: ENGRAVED,
  },
  {
    ratio: "0.3937",
    cause: "The stage micrometer is ruled in thousandths of an inch (25.4 µm) but was entered as 10 µm",
    whatToDo: "Read the engraving of the stage micrometer and register it with 25.4 µm per line.",
    origin: ENGRAVED,
  },
  {
    ratio: "2.54",
    cause: "The stage micrometer is ruled in 10 µm but was entered as thousandths of an inch (25.4 µm)",
    whatToDo: "Read the engraving of the stage micrometer and register it with 10 µm per line.",
    origin: ENGRAVED,
  },
];
