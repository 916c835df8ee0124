import type { CallName } from "#core/contract/calls.ts";

const WORDS: Readonly<Partial<Record<CallName, string>>> & Readonly<Record<string, string>> = {
  "people.register": "registered a person",
  "people.choose": "came to the bench",
  "microscopes.register": "registered a microscope",
  "microscopes.addObjective": "added an objective",
  "microscopes.addEyepiece": "added an eyepiece",
  "micrometers.register": "registered a stage micrometer",
  "certificates.register": "entered a certificate",
  "calibrations.begin": "began a calibration",
  "calibrations.keepDraft": "kept a draft calibration",
  "calibrations.putInForce": "put a calibration in force",
  "calibrations.supersede": "superseded a calibration",
  "calibrations.withdraw": "withdrew a calibration",
  "methods.define": "defined a method",
  "sheets.open": "opened a sheet",
  "sheets.chooseObjective": "changed the objective in use",
  "rows.enter": "took a reading",
  "rows.amend": "corrected a reading",
  "rows.describe": "described a row",
  "rows.strike": "struck a row",
};

/** What an act of the trail is called among people; its own name when it has no other. */
export function actWords(act: string): string {
  return WORDS[act] ?? act;
}
