import { describe, expect, it } from "vitest";
import { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import { trainName } from "#core/optics/train-name.ts";

const EYEPIECE = {
  id: "e1",
  microscopeId: "m",
  name: "10×/20",
  magnification: "10",
  fieldNumber: "20",
  serial: "",
  reticle: { id: "r1", engraving: "10/100", scaleLengthMm: "10", divisions: 100 },
};
const STAND = {
  id: "m",
  name: "Stand A",
  maker: "",
  model: "",
  serial: "",
  headCompensated: true,
  intermediateMagnifications: ["1"],
  objectives: [
    {
      ...{ id: "o", microscopeId: "m", position: 1, magnification: "100", numericalAperture: "1.25" },
      ...{ immersion: "oil", serial: "" },
    },
  ],
  eyepieces: [EYEPIECE],
  registeredAt: "2026-03-02T09:00:00.000Z",
};
const train = OpticalTrain.parse({
  id: "t",
  microscopeId: "m",
  eyepieceId: "e2",
  reticleId: "r2",
  objectiveId: "o",
  intermediateMagnification: "1.25",
  nominalFactor: "0.8",
});

describe("the name of a train", () => {
  it("is objective and stand", () => {
    expect(trainName(train, Microscope.parse(STAND))).toBe("100×/1.25 oil on Stand A");
  });

  it("says which eyepiece and which step of the changer where there are several", () => {
    const stand = Microscope.parse({
      ...STAND,
      intermediateMagnifications: ["1", "1.25"],
      eyepieces: [EYEPIECE, { ...EYEPIECE, id: "e2", name: "12.5×/18" }],
    });
    expect(trainName(train, stand)).toBe("100×/1.25 oil on Stand A (eyepiece 12.5×/18, changer at 1.25×)");
  });
});
