/** One pulse of a tone: pitch in Hz, start and length in ms. */
export interface Pulse {
  readonly pitch: number;
  readonly at: number;
  readonly length: number;
}

/** What the program says by tone; `category-0`, `category-1` … are the categories of a count in their order. */
export type ToneName =
  | "taken"
  | "flagged"
  | "refused"
  | "undone"
  | "objective"
  | "field"
  | "mark"
  | "goal"
  | `category-${number}`;

/** Pentatonic steps from 330 Hz up over two octaves: neighbours never sound alike, and no pair grates. */
const PITCHES = [0, 2, 4, 7, 9, 12, 14, 16, 19, 21, 24].map((step) => 330 * 2 ** (step / 12));

/** Lengths of sound and silence in turn, ms. With 11 pitches, 66 categories differ, and neighbours in both. */
const RHYTHMS: readonly (readonly number[])[] = [
  [70],
  [30, 25, 30],
  [22, 18, 22, 18, 22],
  [80, 25, 25],
  [25, 25, 80],
  [25, 55, 25],
];

function pulsesOf(pitch: number, rhythm: readonly number[]): readonly Pulse[] {
  let at = 0;
  const pulses: Pulse[] = [];
  rhythm.forEach((length, part) => {
    if (part % 2 === 0) pulses.push({ pitch, at, length });
    at += length;
  });
  return pulses;
}

const NAMED: Readonly<Record<Exclude<ToneName, `category-${number}`>, readonly Pulse[]>> = {
  taken: [{ pitch: 660, at: 0, length: 60 }],
  flagged: [
    { pitch: 440, at: 0, length: 90 },
    { pitch: 370, at: 110, length: 140 },
  ],
  refused: [{ pitch: 130, at: 0, length: 220 }],
  undone: [
    { pitch: 520, at: 0, length: 60 },
    { pitch: 390, at: 70, length: 60 },
    { pitch: 260, at: 140, length: 90 },
  ],
  objective: [
    { pitch: 390, at: 0, length: 50 },
    { pitch: 520, at: 60, length: 50 },
    { pitch: 780, at: 120, length: 90 },
  ],
  field: [
    { pitch: 260, at: 0, length: 80 },
    { pitch: 390, at: 90, length: 110 },
  ],
  mark: [
    { pitch: 1320, at: 0, length: 60 },
    { pitch: 1320, at: 120, length: 60 },
  ],
  goal: [
    { pitch: 660, at: 0, length: 110 },
    { pitch: 830, at: 130, length: 110 },
    { pitch: 990, at: 260, length: 110 },
    { pitch: 1320, at: 390, length: 260 },
  ],
};

/** The tone of a category by its place in the count's list, 0, 1 … */
export function categoryTone(place: number): ToneName {
  return `category-${place}`;
}

/** The pulses of a tone in their order. */
export function pulsesOfTone(name: ToneName): readonly Pulse[] {
  if (!name.startsWith("category-")) return NAMED[name as keyof typeof NAMED];
  const place = Number(name.slice("category-".length));
  return pulsesOf(PITCHES[place % PITCHES.length] ?? 330, RHYTHMS[place % RHYTHMS.length] ?? [70]);
}
