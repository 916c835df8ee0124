import { NIOSH_7400, NO_SOURCE } from "#core/vocabulary/literature.ts";

/** A caution in short, and where it comes from. */
export interface CautionEntry {
  readonly words: string;
  readonly source: string;
}

const COMMON = `${NO_SOURCE}.`;

export const CAUTION_GROUPS: readonly {
  readonly title: string;
  readonly cautions: readonly CautionEntry[];
}[] = [
  {
    title: "You, at the eyepiece",
    cautions: [
      {
        words:
          "Rest your eyes: look far away for a moment every 20 minutes of continuous viewing, change your posture, keep your back straight and your elbows close.",
        source: COMMON,
      },
      {
        words:
          "A binocular head that is not set to your eyes strains them, and the scale will not stay in focus. Set distance and sleeves before the session.",
        source: COMMON,
      },
      {
        words:
          "Lamps may be hot or give ultraviolet light; broken slides cut; clean immersion oil only with the solvent the maker names.",
        source: COMMON,
      },
    ],
  },
  {
    title: "The specimen",
    cautions: [
      {
        words:
          "Samples may be infectious. Follow your site's biosafety rules, do not eat at the bench, wipe the eyepieces between users.",
        source: COMMON,
      },
      {
        words:
          "Formaldehyde, glutaraldehyde, iodine, potassium hydroxide, chloral hydrate, acetolysis mixture, hydrofluoric acid and xylene need their safety data sheets and a hood. Acetolysis mixture reacts violently with water.",
        source: COMMON,
      },
      {
        words:
          "Clearing filters with acetone: extremely flammable. More than 1 mL only in a ventilated hood with a spark-free source of heat.",
        source: `${NIOSH_7400}, special precautions.`,
      },
      {
        words:
          "Asbestos is sampled, cleared and counted by trained analysts in accredited laboratories that take part in proficiency testing. Nothing printed here is a clearance certificate.",
        source: COMMON,
      },
    ],
  },
  {
    title: "What a result is good for",
    cautions: [
      {
        words:
          "A factor holds only for the train it was made on and for the person's settings stated with it: another eyepiece, changer, sleeve or eye distance is another factor.",
        source: COMMON,
      },
      {
        words:
          "The magnification engraved on an objective is approximate. It is compared with, never used to convert.",
        source:
          "ASTM: Guide for Calibrating Reticles and Light Microscope Magnifications, E1951 (2014), 5.1.1.",
      },
      {
        words:
          "Without a certificate, or past the date its owner set, a size is not traceable; it is marked so wherever it appears.",
        source: "ISO/IEC 17025:2017, 6.4 and 6.5, from memory.",
      },
      {
        words:
          "This program helps to measure. Identification, diagnosis and release rest with the people and rules responsible: licensed staff in a clinic, the pharmacopoeia in force in a plant.",
        source: COMMON,
      },
      {
        words:
          "Local codes, versions of methods and contracts stand above the defaults here. Check the clause before quoting it.",
        source: COMMON,
      },
    ],
  },
];
