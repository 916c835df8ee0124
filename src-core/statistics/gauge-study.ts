import { type Decimal, decimal, ZERO } from "../quantity/decimal.ts";
import { InputError, requireCount } from "../quantity/input-error.ts";
import { fUpperP } from "./distributions.ts";
import { mean, memberAt, requireLevel, requireSample } from "./sample.ts";

/** Readings as `[reader][specimen][repeat]`: every reader reads every specimen equally often. */
export type CrossedStudy = readonly (readonly (readonly Decimal[])[])[];

export interface StudySize {
  readonly readers: number;
  readonly specimens: number;
  readonly repeats: number;
}

/** @throws InputError naming the reader or cell that breaks the crossing; two of each are the least */
export function requireCrossed(study: CrossedStudy): StudySize {
  requireCount("readers", study, 2);
  const specimens = memberAt(study, 0).length;
  const repeats = study[0]?.[0]?.length ?? 0;
  if (specimens < 2) throw new InputError("readers.0", "needs at least 2 specimens");
  if (repeats < 2) throw new InputError("readers.0.0", "needs at least 2 repeats");
  study.forEach((cells, reader) => {
    if (cells.length !== specimens) {
      throw new InputError(`readers.${reader}`, `must hold ${specimens} specimens like the first reader`);
    }
    cells.forEach((readings, specimen) => {
      const field = `readers.${reader}.${specimen}`;
      requireSample(field, readings, repeats);
      if (readings.length !== repeats)
        throw new InputError(field, `must hold ${repeats} repeats like the first`);
    });
  });
  return { readers: study.length, specimens, repeats };
}

export interface StudyLine {
  readonly degrees: number;
  readonly squares: Decimal;
  readonly meanSquare: Decimal;
}

/** Standard deviations of the parts of the variation, unit of the readings; a negative component counts as zero. */
export interface StudyComponents {
  /** Same reader, same specimen (equipment variation EV). */
  readonly repeatability: Decimal;
  /** Between readers (appraiser variation AV). */
  readonly readers: Decimal;
  /** Readers differing by specimen; zero when pooled. */
  readonly interaction: Decimal;
  /** Repeatability, readers and interaction together (GRR). */
  readonly measurement: Decimal;
  /** Between specimens (part variation PV). */
  readonly specimens: Decimal;
  readonly total: Decimal;
  /** 1.41·PV/GRR before it is cut to a whole number: kinds of specimen that can be told apart; null when GRR is 0. */
  readonly distinctCategories: Decimal | null;
}

/** Combines the parts; shared by the analysis of variance and the average-and-range method. */
export function studyComponents(
  parts: Pick<StudyComponents, "repeatability" | "readers" | "interaction" | "specimens">,
): StudyComponents {
  const measurement = parts.repeatability
    .pow(2)
    .plus(parts.readers.pow(2))
    .plus(parts.interaction.pow(2))
    .sqrt();
  return {
    ...parts,
    measurement,
    total: measurement.pow(2).plus(parts.specimens.pow(2)).sqrt(),
    distinctCategories: measurement.isZero() ? null : parts.specimens.times("1.41").div(measurement),
  };
}

export interface GaugeStudy {
  readonly size: StudySize;
  readonly specimen: StudyLine;
  readonly reader: StudyLine;
  readonly interaction: StudyLine;
  readonly error: StudyLine;
  readonly interactionP: number;
  /** True when the interaction was not significant and its sum of squares joined the error. */
  readonly pooled: boolean;
  /** Error line used for the components: pooled or not. */
  readonly repeatability: StudyLine;
  /** Mean squares over that of the error line used. */
  readonly specimenF: Decimal;
  readonly readerF: Decimal;
  readonly components: StudyComponents;
}

const line = (degrees: number, squares: Decimal): StudyLine => ({
  degrees,
  squares,
  meanSquare: squares.div(degrees),
});

function squaresAround(centre: Decimal, means: readonly Decimal[]): Decimal {
  return means.reduce((sum, value) => sum.plus(value.minus(centre).pow(2)), ZERO);
}

/** √(difference/divisor), zero when negative. */
function component(upper: Decimal, lower: Decimal, divisor: number): Decimal {
  const difference = upper.minus(lower);
  return difference.greaterThan(0) ? difference.div(divisor).sqrt() : ZERO;
}

function linesOf(study: CrossedStudy, { readers, specimens, repeats }: StudySize) {
  const grand = mean(study.flat(2));
  const readerMeans = study.map((cells) => mean(cells.flat()));
  const specimenMeans = Array.from({ length: specimens }, (_, at) =>
    mean(study.flatMap((cells) => memberAt(cells, at))),
  );
  const cellMeans = study.flatMap((cells) => cells.map(mean));
  const reader = squaresAround(grand, readerMeans).times(specimens * repeats);
  const specimen = squaresAround(grand, specimenMeans).times(readers * repeats);
  const cells = squaresAround(grand, cellMeans).times(repeats);
  const error = study
    .flat()
    .reduce((sum, readings) => sum.plus(squaresAround(mean(readings), readings)), ZERO);
  return {
    specimen: line(specimens - 1, specimen),
    reader: line(readers - 1, reader),
    interaction: line((specimens - 1) * (readers - 1), cells.minus(reader).minus(specimen)),
    error: line(specimens * readers * (repeats - 1), error),
  };
}

/**
 * Crossed study of repeatability and reproducibility by analysis of variance (AIAG, Measurement Systems Analysis, 4th
 * ed. 2010, chapter III). The interaction joins the error when its p exceeds `poolAbove`.
 * @throws InputError when the study is not crossed, or no reading repeats with any scatter
 */
export function gaugeStudy(study: CrossedStudy, poolAbove = 0.25): GaugeStudy {
  const size = requireCrossed(study);
  requireLevel(poolAbove);
  const { readers, specimens, repeats } = size;
  const lines = linesOf(study, size);
  const { specimen, reader, interaction, error } = lines;
  if (error.squares.isZero()) throw new InputError("readers", "show no scatter at all between repeats");
  const interactionP = fUpperP(
    interaction.meanSquare.div(error.meanSquare).toNumber(),
    interaction.degrees,
    error.degrees,
  );
  const pooled = interactionP > poolAbove;
  const repeatability = pooled
    ? line(error.degrees + interaction.degrees, error.squares.plus(interaction.squares))
    : error;
  const under = pooled ? repeatability.meanSquare : interaction.meanSquare;
  return {
    size,
    ...lines,
    interactionP,
    pooled,
    repeatability,
    specimenF: specimen.meanSquare.div(repeatability.meanSquare),
    readerF: reader.meanSquare.div(repeatability.meanSquare),
    components: studyComponents({
      repeatability: repeatability.meanSquare.sqrt(),
      readers: component(reader.meanSquare, under, specimens * repeats),
      interaction: pooled ? decimal(0) : component(interaction.meanSquare, error.meanSquare, repeats),
      specimens: component(specimen.meanSquare, under, readers * repeats),
    }),
  };
}
