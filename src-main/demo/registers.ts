import type { CallInput } from "#core/contract/calls.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import { PLAIN_METHOD } from "#core/measurement/methods/plain-method.ts";

/**
 * Who and what stands on the bench of the demonstration. Everything is invented: no such laboratory, person,
 * instrument, certificate or honey exists.
 */
export const BENCH_NAME = "Hollin Moor pollen bench";
/** The name at the head of letters, in the top strip and on paper. */
export const LABORATORY_NAME = `${BENCH_NAME} (invented)`;
export const INVENTED = "Invented for the demonstration.";

type NewPerson = CallInput<"people.register">["person"];
type NewMicroscope = CallInput<"microscopes.register">["microscope"];
type NewMicrometer = CallInput<"micrometers.register">["micrometer"];
export type NewCertificate = Omit<CallInput<"certificates.register">["certificate"], "stageMicrometerId">;

export type PersonKey = "maren" | "idris" | "tamsin";
export const PEOPLE: Readonly<Record<PersonKey, NewPerson>> = {
  maren: { name: "Maren Holt (invented)", initials: "MH", interpupillaryMm: "61.5" },
  idris: { name: "Idris Whitlock (invented)", initials: "IW", interpupillaryMm: "66" },
  tamsin: { name: "Tamsin Orrey (invented)", initials: "TO", interpupillaryMm: "58.5" },
};

export type StandKey = "window" | "door";
export const MICROSCOPES: Readonly<Record<StandKey, NewMicroscope>> = {
  window: {
    name: "Window stand",
    maker: "invented",
    model: "HM-1",
    serial: "demo-0417",
    headCompensated: false,
    intermediateMagnifications: [],
    objectives: [
      { position: 2, magnification: "10", numericalAperture: "0.25", immersion: "dry", serial: "demo-1010" },
      { position: 3, magnification: "20", numericalAperture: "0.40", immersion: "dry", serial: "demo-1020" },
      { position: 4, magnification: "40", numericalAperture: "0.65", immersion: "dry", serial: "demo-1040" },
      { position: 5, magnification: "100", numericalAperture: "1.25", immersion: "oil", serial: "demo-1100" },
    ],
    eyepieces: [
      {
        name: "Left tube, long scale",
        magnification: "10",
        fieldNumber: "20",
        serial: "",
        reticle: { engraving: "HM-R1", scaleLengthMm: "10", divisions: "100" },
      },
      {
        name: "Right tube, fine scale",
        magnification: "10",
        fieldNumber: "20",
        serial: "",
        reticle: { engraving: "HM-R2", scaleLengthMm: "5", divisions: "100" },
      },
    ],
  },
  door: {
    name: "Door stand",
    maker: "invented",
    model: "HM-2",
    serial: "demo-0932",
    headCompensated: true,
    intermediateMagnifications: [],
    objectives: [
      { position: 1, magnification: "10", numericalAperture: "0.30", immersion: "dry", serial: "demo-2010" },
      { position: 3, magnification: "40", numericalAperture: "0.75", immersion: "dry", serial: "demo-2040" },
    ],
    eyepieces: [
      {
        name: "Long scale",
        magnification: "10",
        fieldNumber: "22",
        serial: "",
        reticle: { engraving: "HM-R3", scaleLengthMm: "10", divisions: "100" },
      },
      {
        name: "Fine scale",
        magnification: "10",
        fieldNumber: "22",
        serial: "",
        reticle: { engraving: "HM-R4", scaleLengthMm: "5", divisions: "100" },
      },
    ],
  },
};

export type MicrometerKey = "millimetre" | "long" | "fine";
export const MICROMETERS: Readonly<Record<MicrometerKey, NewMicrometer>> = {
  millimetre: {
    name: "1 mm scale",
    serial: "HM-SM-1",
    maker: "invented",
    scaleLengthMm: "1",
    divisions: "100",
    substrate: "soda-lime glass",
  },
  long: {
    name: "2 mm scale",
    serial: "HM-SM-2",
    maker: "invented",
    scaleLengthMm: "2",
    divisions: "200",
    substrate: "soda-lime glass",
    cover: "uncovered",
    keptAt: "drawer under the window bench",
  },
  fine: {
    name: "0.2 mm scale",
    serial: "HM-SM-3",
    maker: "invented",
    scaleLengthMm: "0.2",
    divisions: "100",
    substrate: "borosilicate glass",
    cover: "under a cover glass",
    keptAt: "drawer under the window bench",
  },
};

const reading: MethodDefinition["reading"] = {
  smallestFraction: "0.1",
  repeatability: "0.15",
  repeatabilityDegreesOfFreedom: "19",
  alignmentHalfAngle: "2",
  ends: "points",
  edgeHalfWidth: "0.13",
  edgeDegreesOfFreedom: "8",
  edgeKind: "same-sense",
};

const edges = "outer edge of the exine in optical section, ornament left out";

export const POLAR_AND_EQUATORIAL: MethodDefinition = {
  ...PLAIN_METHOD,
  name: "Pollen, P and E",
  dimensions: [
    { key: "p", name: "Polar axis" },
    { key: "e", name: "Equatorial diameter" },
  ],
  derived: [
    { key: "p_e", name: "P/E", kind: "ratio", of: ["p", "e"] },
    { key: "longest", name: "Longest axis", kind: "largest", of: ["p", "e"] },
  ],
  classes: [
    { of: "p_e", tableId: "erdtman-shape" },
    { of: "longest", tableId: "erdtman-size" },
  ],
  report: { kind: "pollen P and E", places: 1, ratioPlaces: 2 },
  edgeConvention: edges,
  reading,
  coverage: "t95",
  rounding: "half-even",
  minimumDivisions: "8",
  note: `Grains in equatorial view, both ends sharp in one focus. ${BENCH_NAME}. ${INVENTED}`,
};

export const DIAMETER: MethodDefinition = {
  ...PLAIN_METHOD,
  name: "Pollen, diameter",
  dimensions: [{ key: "d", name: "Diameter" }],
  edgeConvention: edges,
  reading,
  coverage: "k2",
  rounding: "half-even",
  minimumDivisions: "10",
  note: `Largest diameter in polar view; tetrads across the whole tetrad. ${BENCH_NAME}. ${INVENTED}`,
};
