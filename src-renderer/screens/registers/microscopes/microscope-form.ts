import type { z } from "zod";
import { type NewEyepiece, NewMicroscope, type NewObjective } from "#core/contract/records/microscope.ts";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
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

/** Paths of the contract laid over those of the form: the reticle is not set apart there, and the changer is one field. */
export const fieldOfParts = (path: string): string =>
  path.replace("reticle.", "").replace(/^(intermediateMagnifications)\.\d+$/, "$1");

/** Problems by the contract's schema, at the fields of the form. */
export function problemsOfParts(schema: z.ZodType, input: unknown): FieldErrors {
  const problems = Object.entries(problemsBySchema(schema, input));
  return Object.fromEntries(problems.map(([path, reason]) => [fieldOfParts(path), reason]));
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
  return {
    ...(typed.headCompensated === "" ? { headCompensated: "needs an answer" } : {}),
    ...problemsOfParts(NewMicroscope, microscopeInput(typed)),
    ...takenTwice(meantObjectives(typed)),
  };
}
