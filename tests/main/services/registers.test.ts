import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  buildScene,
  grainMethod,
  newCertificate,
  newMicroscope,
  type Scene,
} from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

async function trainsOf(microscopeId: string) {
  const { microscopes } = await bench.call("bench.overview", {});
  const found = microscopes.find((one) => one.microscope.id === microscopeId);
  return found?.trains.map((status) => status.train) ?? [];
}

describe("trains", () => {
  it("come into being for every eyepiece, objective and intermediate magnification", async () => {
    const microscope = await bench.call("microscopes.register", {
      requestId: bench.request(),
      microscope: { ...newMicroscope("Stand B"), intermediateMagnifications: ["1.25", "1.0", "2"] },
    });
    expect(microscope.intermediateMagnifications).toEqual(["1", "1.25", "2"]);
    expect(await trainsOf(microscope.id)).toHaveLength(6);
    const more = await bench.call("microscopes.addObjective", {
      requestId: bench.request(),
      microscopeId: microscope.id,
      objective: {
        position: 3,
        magnification: "100",
        numericalAperture: "1.25",
        immersion: "oil",
        serial: "",
      },
    });
    expect(more.objectives).toHaveLength(3);
    expect(await trainsOf(microscope.id)).toHaveLength(9);
    const both = await bench.call("microscopes.addEyepiece", {
      requestId: bench.request(),
      microscopeId: microscope.id,
      eyepiece: {
        name: "12.5×",
        magnification: "12,5",
        fieldNumber: "",
        serial: "",
        reticle: { engraving: "", scaleLengthMm: "5", divisions: "50" },
      },
    });
    expect(both.eyepieces.map((one) => one.magnification)).toEqual(["10", "12.5"]);
    expect(await trainsOf(microscope.id)).toHaveLength(18);
  });

  it("carry the nominal factor: 10 mm in 100 divisions at 40× is 2.5 µm/div", async () => {
    // Arithmetic: 10 000 µm / 100 / 40.
    expect(scene.trains.map((train) => train.nominalFactor)).toEqual(["10", "2.5"]);
  });
});

describe("what is there already", () => {
  it.each([
    [
      "person",
      () => ["people.register", { person: { name: "  ada EXAMPLE", initials: "", interpupillaryMm: "" } }],
      "person.taken",
      "person.name",
    ],
    [
      "microscope",
      () => ["microscopes.register", { microscope: newMicroscope("stand a") }],
      "microscope.taken",
      "microscope.name",
    ],
    [
      "objective",
      () => [
        "microscopes.addObjective",
        {
          microscopeId: scene.microscope.id,
          objective: {
            position: 2,
            magnification: "63",
            numericalAperture: "",
            immersion: "oil",
            serial: "",
          },
        },
      ],
      "objective.taken",
      "objective.position",
    ],
    [
      "micrometer",
      () => [
        "micrometers.register",
        {
          micrometer: {
            name: "SM 2",
            serial: "4711",
            maker: "",
            scaleLengthMm: "1",
            divisions: "100",
            substrate: "other",
          },
        },
      ],
      "micrometer.taken",
      "micrometer.serial",
    ],
    [
      "certificate",
      () => ["certificates.register", { certificate: newCertificate(scene.micrometer.id) }],
      "certificate.taken",
      "certificate.number",
    ],
    [
      "method",
      () => ["methods.define", { familyId: null, definition: grainMethod() }],
      "method.taken",
      "definition.name",
    ],
  ] as const)("is not registered twice: %s", async (_, make, code, field) => {
    const [name, input] = make() as [string, object];
    expect(await bench.refusal(name, { requestId: bench.request(), ...input })).toMatchObject({
      code,
      field,
    });
  });
});

describe("methods", () => {
  it("change by versions; a sheet keeps the version it was opened with", async () => {
    const { familyId, id } = await bench.call("methods.get", { methodId: scene.methodId });
    const next = await bench.call("methods.define", {
      requestId: bench.request(),
      familyId,
      definition: { ...grainMethod(), minimumDivisions: "30" },
    });
    expect(next).toMatchObject({ familyId, version: 2 });
    expect(await bench.call("methods.list", {})).toEqual([next]);
    expect((await bench.call("sheets.get", { sheetId: scene.sheet.id })).sheet.methodId).toBe(id);
  });
});

describe("substrates", () => {
  // Typical handbook values of linear expansion; the half-widths are common practice, no source.
  it.each([
    ["soda-lime glass", "0.0000091", "0.000001"],
    ["borosilicate glass", "0.0000033", "0.000001"],
    ["fused silica", "0.00000055", "0.000001"],
    ["other", "0.000005", "0.000005"],
  ] as const)("%s expands by %s per kelvin", async (substrate, expansion, expansionHalfWidth) => {
    const micrometer = await bench.call("micrometers.register", {
      requestId: bench.request(),
      micrometer: {
        name: "SM",
        serial: substrate,
        maker: "",
        scaleLengthMm: "1",
        divisions: "100",
        substrate,
      },
    });
    expect(micrometer).toMatchObject({ expansion, expansionHalfWidth, scaleLengthUm: "1000" });
  });
});

describe("cover glass and place of a stage micrometer", () => {
  const register = (more: object) => ({
    requestId: bench.request(),
    micrometer: {
      name: "SM 2",
      serial: "4712",
      maker: "",
      scaleLengthMm: "1",
      divisions: "100",
      substrate: "other" as const,
      ...more,
    },
  });

  it.each(["under a cover glass", "uncovered"] as const)("are kept and told: %s", async (cover) => {
    const saved = await bench.call("micrometers.register", register({ cover, keptAt: "  drawer 2 " }));
    expect(saved).toMatchObject({ cover, keptAt: "drawer 2" });
    expect((await bench.call("micrometers.list", {})).at(-1)).toEqual(saved);
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(JSON.parse(line?.detail ?? "")).toMatchObject({ cover, keptAt: "drawer 2" });
  });

  it.each([{}, { cover: null }, { cover: null, keptAt: " " }])(
    "need not be recorded: %j",
    async (nothing) => {
      const saved = await bench.call("micrometers.register", register(nothing));
      expect(Object.keys(saved)).not.toEqual(expect.arrayContaining(["cover"]));
      expect(Object.keys(saved)).not.toEqual(expect.arrayContaining(["keptAt"]));
      expect((await bench.call("micrometers.list", {})).at(-1)).toEqual(saved);
    },
  );

  it.each([
    ["cover", { cover: "half" }],
    ["keptAt", { keptAt: "drawer\n2" }],
    ["keptAt", { keptAt: "d".repeat(121) }],
  ])("are refused at their field: %s", async (field, wrong) => {
    const refusal = await bench.refusal("micrometers.register", register(wrong) as never);
    expect(refusal.field).toBe(`micrometer.${field}`);
    expect(await bench.call("micrometers.list", {})).toHaveLength(1);
  });
});

it("stores a certificate's positions as errors and keeps what was typed", async () => {
  const certificate = await bench.call("certificates.register", {
    requestId: bench.request(),
    certificate: {
      ...newCertificate(scene.micrometer.id),
      number: "C-2",
      sign: "position",
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "500", value: "500,12" },
        { nominal: "1000", value: "999.9" },
      ],
    },
  });
  expect(certificate.lines).toEqual([
    { nominal: "0", error: "0", typedNominal: "0", typedValue: "0" },
    { nominal: "500", error: "0.12", typedNominal: "500", typedValue: "500,12" },
    { nominal: "1000", error: "-0.1", typedNominal: "1000", typedValue: "999.9" },
  ]);
});

it("asks who is at the bench before anything is written", async () => {
  const empty = await tempBench();
  const input = { requestId: empty.request(), microscope: newMicroscope() };
  expect(await empty.refusal("microscopes.register", input)).toMatchObject({ code: "person.missing" });
  expect(await empty.call("microscopes.list", {})).toEqual([]);
  await empty.end();
});
