import type { z } from "zod";
import { type NewEyepiece, NewMicroscope, type NewObjective } from "#core/contract/records/microscope.ts";
import { problemsBySchema, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { type FieldErrors, withoutBlankEnd } from "../../../parts/form/form-values.ts";

/** An objective as typed. */
export interface ObjectiveTyped {
  readonly position: string;
  readonly magnification: string;
  readonly numericalAperture: string;
  readonly immersion: string;
  readonly serial: string;
}

/** An eyepiece with its reticle as typed. */
export interface EyepieceTyped {
  readonly name: string;
  readonly magnification: string;
  readonly fieldNumber: string;
  readonly serial: string;
  readonly engraving: string;
  readonly scaleLengthMm: string;
  readonly divisions: string;
}

export interface MicroscopeTyped {
  readonly name: string;
  readonly maker: string;
  readonly model: string;
  readonly serial: string;
  readonly headCompensated: string;
  /** Besides 1×, separated by spaces or semicolons. */
  readonly intermediateMagnifications: string;
  readonly objectives: readonly ObjectiveTyped[];
  readonly eyepieces: readonly EyepieceTyped[];
}

export const emptyObjective = (position: number): ObjectiveTyped => ({
  position: String(position),
  magnification: "",
  numericalAperture: "",
  immersion: "dry",
  serial: "",
});

export const EMPTY_EYEPIECE: EyepieceTyped = {
  name: "",
  magnification: "",
  fieldNumber: "",
  serial: "",
  engraving: "",
  scaleLengthMm: "",
  divisions: "",
};

export const EMPTY_MICROSCOPE: MicroscopeTyped = {
  name: "",
  maker: "",
  model: "",
  serial: "",
  headCompensated: "",
  intermediateMagnifications: "",
  objectives: [emptyObjective(1)],
  eyepieces: [EMPTY_EYEPIECE],
};

export function objectiveInput(typed: ObjectiveTyped): z.input<typeof NewObjective> {
  return { ...typed, position: Number(typed.position), immersion: typed.immersion as "dry" };
}

export function eyepieceInput(typed: EyepieceTyped): z.input<typeof NewEyepiece> {
  const { engraving, scaleLengthMm, divisions, ...eyepiece } = typed;
  return { ...eyepiece, reticle: { engraving, scaleLengthMm, divisions } };
}

/** A turret position alone is no objective yet. */
const blankObjective = (one: ObjectiveTyped): boolean =>
  `${one.magnification}${one.numericalAperture}${one.serial}`.trim() === "";
const blankEyepiece = (one: EyepieceTyped): boolean => Object.values(one).join("").trim() === "";

const meantObjectives = (typed: MicroscopeTyped) => withoutBlankEnd(typed.objectives, blankObjective);
const meantEyepieces = (typed: MicroscopeTyped) => withoutBlankEnd(typed.eyepieces, blankEyepiece);

export function microscopeInput(typed: MicroscopeTyped): z.input<typeof NewMicroscope> {
  return {
    ...typed,
    headCompensated: typed.headCompensated === "yes",
    intermediateMagnifications: typed.intermediateMagnifications.split(/[\s;]+/).filter((one) => one !== ""),
    objectives: meantObjectives(typed).map(objectiveInput),
    eyepieces: meantEyepieces(typed).map(eyepieceInput),
  };
}

/** Paths of the contract's eyepiece laid over those of the form, where the reticle is not set apart. */
export const flatReticle = (path: string): string => path.replace("reticle.", "");

export function objectiveProblems(typed: ObjectiveTyped, at = ""): FieldErrors {
  return problemsOfNumbers([
    [`${at}position`, typed.position, { whole: true, sign: "positive" }],
    [`${at}magnification`, typed.magnification, { sign: "positive" }],
    [`${at}numericalAperture`, typed.numericalAperture, { optional: true, sign: "positive" }],
  ]);
}

export function eyepieceProblems(typed: EyepieceTyped, at = ""): FieldErrors {
  return problemsOfNumbers([
    [`${at}magnification`, typed.magnification, { optional: true, sign: "positive" }],
    [`${at}fieldNumber`, typed.fieldNumber, { optional: true, sign: "positive" }],
    [`${at}scaleLengthMm`, typed.scaleLengthMm, { sign: "positive" }],
    [`${at}divisions`, typed.divisions, { sign: "positive", whole: true }],
  ]);
}

/** Two objectives cannot sit in one place. */
function takenTwice(objectives: readonly ObjectiveTyped[]): FieldErrors {
  const errors: Record<string, string> = {};
  objectives.forEach((objective, index) => {
    const first = objectives.findIndex((one) => one.position.trim() === objective.position.trim());
    if (first < index) {
      errors[`objectives.${index}.position`] =
        `${objective.position} is taken by the objective in row ${first + 1}`;
    }
  });
  return errors;
}

export function microscopeProblems(typed: MicroscopeTyped): FieldErrors {
  const schema = Object.entries(problemsBySchema(NewMicroscope, microscopeInput(typed)));
  const changers = microscopeInput(typed).intermediateMagnifications;
  return {
    ...(typed.headCompensated === "" ? { headCompensated: "needs an answer" } : {}),
    ...Object.fromEntries(schema.map(([path, reason]) => [flatReticle(path), reason])),
    ...Object.assign(
      {},
      ...meantObjectives(typed).map((one, i) => objectiveProblems(one, `objectives.${i}.`)),
    ),
    ...Object.assign({}, ...meantEyepieces(typed).map((one, i) => eyepieceProblems(one, `eyepieces.${i}.`))),
    ...takenTwice(meantObjectives(typed)),
    ...problemsOfNumbers(changers.map((one) => ["intermediateMagnifications", one, { sign: "positive" }])),
  };
}
