import { expect, it } from "vitest";
import type { Microscope, Objective, OpticalTrain } from "#core/contract/records/microscope.ts";
import { confirmationWords, eyesWords } from "#core/optics/confirmation-words.ts";
import { datedObjectiveWords, trainName } from "#core/optics/train-name.ts";
import { isEnded, objectivesOnTurret, objectivesReplaced } from "#core/optics/turret.ts";

const objective = (id: string, position: number, replaced?: Objective["replaced"]): Objective => ({
  id,
  microscopeId: "stand",
  position,
  magnification: "40" as Objective["magnification"],
  numericalAperture: "0.65" as Objective["magnification"],
  immersion: "dry",
  serial: "",
  ...(replaced ? { replaced } : {}),
});
const objectives = [
  objective("c", 2),
  objective("first", 1, { on: "2026-02-01", by: "second" }),
  objective("second", 1, { on: "2026-03-01", by: "now" }),
  objective("now", 1),
];

it("tells what is on the turret from what left it, the last one first", () => {
  expect(objectivesOnTurret(objectives).map(({ id }) => id)).toEqual(["now", "c"]);
  expect(objectivesReplaced(objectives).map(({ id }) => id)).toEqual(["second", "first"]);
  expect(["first", "now", "c"].map((objectiveId) => isEnded({ objectiveId }, { objectives }))).toEqual([
    true,
    false,
    false,
  ]);
});

it("names two objectives of one engraving apart by the day on which one left", () => {
  expect(objectives.slice(2).map(datedObjectiveWords)).toEqual(["40×/0.65 (until 2026-03-01)", "40×/0.65"]);
  const stand = { name: "Stand A", objectives, eyepieces: [], intermediateMagnifications: ["1"] };
  const nameOf = (objectiveId: string) =>
    trainName({ objectiveId } as OpticalTrain, stand as unknown as Microscope);
  expect(nameOf("second")).toBe("40×/0.65 on Stand A (until 2026-03-01)");
  expect(nameOf("now")).toBe("40×/0.65 on Stand A");
});

it("says of head and eyes what was said, and nothing of the rest", () => {
  expect(eyesWords({ dioptre: "-1.5", sleeve: "160", glasses: "without" })).toBe(
    "dioptre −1.5, sleeve 160 mm, without glasses",
  );
  expect(eyesWords({ dioptre: "", sleeve: "", glasses: "not said" })).toBe("");
  const confirmed = { at: "", by: "", objectiveId: "now", intermediateMagnification: "1" as never };
  expect(confirmationWords({ ...confirmed, interpupillary: "63" })).toBe("interpupillary 63 mm");
});
