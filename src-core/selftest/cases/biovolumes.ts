import { biovolumePerLitre, carbonPerLitre } from "../../counting/densities/water-biovolume.ts";
import { BIOVOLUME_SHAPES } from "../../methods/biovolume-shapes.ts";
import { cellCarbon, DIATOM_CARBON, PROTIST_CARBON } from "../../methods/carbon.ts";
import { cellVolume } from "../../methods/cell-volume.ts";
import { decimal } from "../../quantity/decimal.ts";
import { exactly } from "../../quantity/uncertain-product.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

/** Shape, its lengths in the order of its inputs (µm), volume (µm³). */
const VOLUMES = [
  ["sphere", "10", "523.5987755982989"],
  ["prolate-spheroid", "10 20", "1047.1975511965977"],
  ["ellipsoid", "20 10 8", "837.7580409572781"],
  ["cylinder", "8 30", "1507.9644737231006"],
  ["elliptic-cylinder", "20 10 8", "1256.6370614359173"],
  ["cone", "10 15", "392.6990816987241"],
  ["double-cone", "10 30", "785.3981633974482"],
  ["truncated-cone", "6 10 12", "615.7521601035994"],
  ["box", "20 10 5", "1000"],
  ["rhombic-prism", "20 10 5", "500"],
  ["triangular-prism", "10 5", "216.50635094610965"],
  ["tetrahedron", "10", "117.85113019775794"],
  ["half-sphere", "10", "261.79938779914943"],
  ["cone-half-sphere", "10 20", "654.4984694978735"],
  ["capsule", "8 20", "871.2683625955692"],
] as const;

function volumeOf(id: string, lengths: string) {
  const shape = BIOVOLUME_SHAPES.find((entry) => entry.id === id);
  if (!shape) throw new Error(`no shape ${id}`);
  const texts = lengths.split(" ");
  const dimensions = Object.fromEntries(
    shape.inputs.map(({ key }, index) => [key, decimal(texts[index] ?? "0")]),
  );
  return cellVolume(shape, dimensions);
}

function volumeRow([id, lengths, expected]: (typeof VOLUMES)[number]): CaseRow {
  return {
    what: `${id} of ${lengths.replaceAll(" ", " × ")} µm, µm³`,
    expected,
    got: () => volumeOf(id, lengths),
    units: 3,
  };
}

export const CELL_VOLUMES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "biovolume",
    "Formulas of H. Hillebrand et al. (1999), J. Sun and D. Liu (2003) and EN 16695:2015, from memory; invented cells",
    "golden",
    VOLUMES.map(volumeRow),
  ),
  ...rowsOfCases("biovolume-water", "Biovolume in water; invented counts and cells", "golden", [
    {
      what: "5286.80… cells/mL of 1047.19… µm³, mm³/L",
      expected: "5.536326794280537",
      got: () =>
        biovolumePerLitre(
          exactly("density", "5286.802655291126", "/mL"),
          exactly("volume", "1047.1975511965977", "µm³"),
        ).value,
      units: 1,
    },
    {
      what: "5286.80… cells/mL of 147.99… pg C, µg C/L",
      expected: "782.444825647055",
      got: () =>
        carbonPerLitre(
          exactly("density", "5286.802655291126", "/mL"),
          exactly("carbon", "147.9996278779142", "pg"),
        ).value,
      units: 1,
    },
  ]),
  ...rowsOfCases("carbon", `${PROTIST_CARBON.source}; invented cells`, "from memory", [
    {
      what: "protist of 1047.1975512 µm³, pg C",
      expected: "147.9996278779142",
      got: () => cellCarbon(decimal("1047.1975512"), PROTIST_CARBON),
      units: 10,
    },
    {
      what: "diatom of 1507.9644737 µm³, pg C",
      expected: "108.90997993247663",
      got: () => cellCarbon(decimal("1507.9644737"), DIATOM_CARBON),
      units: 10,
    },
  ]),
];
