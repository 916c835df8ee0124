import type { BenchOverview, TrainStatus } from "#core/contract/records/bench.ts";
import { BenchOverview as BenchOverviewSchema } from "#core/contract/records/bench.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import type { SheetInShort } from "#renderer/screens/bench/jobs.ts";

const AT = "2026-11-20T08:00:00.000Z";

/** An invented stand with objectives in the given turret positions. */
export function stand(name: string, positions: readonly number[], eyepieces = 1): Microscope {
  const id = name.replaceAll(" ", "-");
  return BenchOverviewSchema.shape.microscopes.element.shape.microscope.parse({
    id,
    name,
    maker: "",
    model: "",
    serial: "",
    headCompensated: true,
    intermediateMagnifications: ["1"],
    objectives: positions.map((position) => ({
      id: `${id}-o${position}`,
      microscopeId: id,
      position,
      magnification: String(position * 10),
      numericalAperture: "0.25",
      immersion: "dry",
      serial: "",
    })),
    eyepieces: Array.from({ length: eyepieces }, (_, index) => ({
      id: `${id}-e${index + 1}`,
      microscopeId: id,
      name: `E${index + 1}`,
      magnification: "10",
      fieldNumber: null,
      serial: "",
      reticle: { id: `${id}-r${index + 1}`, engraving: "", scaleLengthMm: "10", divisions: 100 },
    })),
    registeredAt: AT,
  });
}

/** Trains of every objective and eyepiece, in the given states in turn. */
export function trainsOf(microscope: Microscope, states: readonly TrainStatus["state"][]): TrainStatus[] {
  const pairs = microscope.eyepieces.flatMap((eyepiece) =>
    microscope.objectives.map((objective) => ({ eyepiece, objective })),
  );
  return pairs.map(({ eyepiece, objective }, index) => ({
    train: {
      id: `${objective.id}-${eyepiece.id}`,
      microscopeId: microscope.id,
      eyepieceId: eyepiece.id,
      reticleId: eyepiece.reticle.id,
      objectiveId: objective.id,
      intermediateMagnification: microscope.intermediateMagnifications[0] as never,
      nominalFactor: "10" as never,
    },
    inForce: null,
    state: states[index % states.length] ?? "ready",
    why: "invented",
    replacedCertificateId: null,
  }));
}

export function overviewOf(
  microscopes: BenchOverview["microscopes"],
  counts: Partial<BenchOverview["counts"]> = {},
): BenchOverview {
  const none = { people: 1, stageMicrometers: 0, certificates: 0, methods: 0, sheets: 0, rows: 0 };
  return { microscopes, counts: { ...none, ...counts }, asOf: AT };
}

export function sheet(number: string, rowCount: number): SheetInShort {
  return { id: number, number, sample: "Heather honey (invented)", rowCount };
}
