import { z } from "zod";
import { DATE_FORMS, DECIMAL_SIGNS } from "../../quantity/shown-text.ts";
import { PAPERS } from "./exchange.ts";

export const THEMES = ["dim", "light"] as const;
export type Theme = (typeof THEMES)[number];

/** Per cent of the usual size of text. */
export const TEXT_SIZES = [90, 100, 110, 125, 150] as const;

/** What a copied size is: one cell as it is shown, or number and U in two columns. */
export const COPIED_SIZES = ["as shown", "number and U"] as const;

/** What a person hears. */
export const SoundSettings = z.strictObject({
  muted: z.boolean(),
  /** Loudness of tones and voice, 0…1. */
  volume: z.number().min(0).max(1),
  /** Numbers are spoken where the machine has a voice. */
  speech: z.boolean(),
  /** A total is spoken every so many objects; 0: never. */
  spokenEvery: z.int().min(0).max(10_000),
});
export type SoundSettings = z.infer<typeof SoundSettings>;

/** When a person is reminded to rest the eyes. */
export const RestSettings = z.strictObject({
  on: z.boolean(),
  /** Minutes of work without a rest. */
  minutes: z.int().min(5).max(120),
});
export type RestSettings = z.infer<typeof RestSettings>;

/** A key press as the key table names it: `Alt+1`, `F9`. */
const Chord = z.string().min(1).max(40);

const fields = {
  theme: z.enum(THEMES),
  textSize: z.literal(TEXT_SIZES),
  compact: z.boolean(),
  foldedHead: z.boolean(),
  narrowRail: z.boolean(),
  sound: SoundSettings,
  rest: RestSettings,
  decimalSign: z.enum(DECIMAL_SIGNS),
  dateForm: z.enum(DATE_FORMS),
  paper: z.enum(PAPERS),
  copiedSizes: z.enum(COPIED_SIZES),
  /** Keys that the person gave to commands, by the command's name in the key table; the others keep their usual ones. */
  keys: z.record(z.string().max(60), z.array(Chord).max(4)),
} as const;

/** How one person wants the program: nothing here changes a record, a number or a result. */
export const OwnSettings = z.strictObject(fields);
export type OwnSettings = z.infer<typeof OwnSettings>;

/** What is changed at once; what is not named stays. */
export const OwnSettingsChange = z.strictObject(fields).partial();
export type OwnSettingsChange = z.infer<typeof OwnSettingsChange>;

/** Twenty minutes of work, then some seconds of looking far away: common practice, no source. */
export const USUAL_SETTINGS: OwnSettings = {
  theme: "dim",
  textSize: 100,
  compact: false,
  foldedHead: false,
  narrowRail: false,
  sound: { muted: false, volume: 0.5, speech: true, spokenEvery: 50 },
  rest: { on: true, minutes: 20 },
  decimalSign: "point",
  dateForm: "2026-01-31",
  paper: "A4",
  copiedSizes: "as shown",
  keys: {},
};
