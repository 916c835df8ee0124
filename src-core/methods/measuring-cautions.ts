/** Cautions shown with ready methods; in our own words, each with where it comes from. */

export const FIXATIVES =
  "Fixatives and mounting reagents (formaldehyde, glutaraldehyde, Lugol's iodine, potassium hydroxide, chloral hydrate, acetolysis mixture) need their safety data sheets and a hood. Common practice, no source.";
export const BIOSAFETY =
  "Samples may be infectious: follow the biosafety rules of the site, do not eat at the bench, wipe the eyepieces between users. Common practice, no source.";
export const DIAGNOSTIC_USE =
  "This program supports measuring only: identification and reporting rest with licensed persons under the local quality system. Common practice, no source.";
export const MOUNTING_SWELLS =
  "Sizes depend on medium and age of the mount: glycerine jelly swells grains and spores. Common practice, no source.";
export const TRAIN_ONLY =
  "The factor holds for its own train and the person's settings at the eyepiece, for nothing else. Common practice, no source.";
export const LOCAL_RULES =
  "Codes, method versions and contracts in force at the place of use come before these defaults; check the clause numbers. Common practice, no source.";
export const NOMINAL_MAGNIFICATION =
  "The magnification engraved on an objective is approximate: the calibrated factor decides, not the engraving. Common practice, no source.";
