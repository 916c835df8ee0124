import type { PracticeFigure } from "../contract/records/practice.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { equalsProbability } from "../quantity/probability-words.ts";
import { formatToPlaces } from "../quantity/rounding.ts";
import type { GaugeStudy } from "../statistics/gauge-study.ts";
import type { OneWayAnova } from "../statistics/one-way-anova.ts";
import type { ClassReport, ExerciseOfClass, MemberResult, MemberSample } from "./class-report.ts";

/** A number with the places it is shown to, or words; null: nothing. */
export type ClassCell = string | { readonly value: Decimal; readonly places: number } | null;

/** A table of what a class has shown, the same on screen, paper and workbook. */
export interface ClassTable {
  readonly title: string;
  /** What it says in sentences. */
  readonly words: readonly string[];
  /** The first column names the row; the others hold numbers where `number` says so. */
  readonly columns: readonly { readonly title: string; readonly number?: true }[];
  readonly rows: readonly (readonly ClassCell[])[];
}

const PLACES = 3;
const shown = (value: Decimal | null, places = PLACES): ClassCell => value && { value, places };
const count = (value: number): ClassCell => ({ value: decimal(value), places: 0 });
const figure = (member: MemberResult, name: PracticeFigure["name"]): Decimal | null => {
  const found = member.attempt?.result?.figures.find((one) => one.name === name);
  return found ? decimal(found.value) : null;
};

function verdictOf({ attempt }: MemberResult): string {
  if (!attempt?.result) return "not done";
  return attempt.result.verdict === "met" ? "met" : "not met";
}

/** An analysis of variance in a sentence. */
export function anovaWords(
  { f, p, between, within, betweenDeviation, withinDeviation }: OneWayAnova,
  unit: string,
): string {
  if (f === null || p === null)
    return "Between people: no scatter within anybody's values, so nothing to test.";
  return `Between people: F(${between.degrees}, ${within.degrees}) = ${formatToPlaces(f, 2)}, p ${equalsProbability(p)}; s within a person ${formatToPlaces(withinDeviation, PLACES)} ${unit}, between people ${formatToPlaces(betweenDeviation, PLACES)} ${unit}.`;
}

function exerciseTable(of: ExerciseOfClass, nameOf: (personId: string) => string): ClassTable {
  const title = `Practice: ${of.exercise.title}`;
  const { errors } = of.exercise;
  if (errors === null) {
    return {
      title,
      words: [],
      columns: [{ title: "Person" }, { title: "Right answers / %", number: true }, { title: "Criteria" }],
      rows: of.members.map((member) => [
        nameOf(member.personId),
        shown(figure(member, "right"), 0),
        verdictOf(member),
      ]),
    };
  }
  const { unit } = errors;
  return {
    title,
    words: of.anova ? [anovaWords(of.anova, unit)] : [],
    columns: [
      { title: "Person" },
      { title: "Answers", number: true },
      { title: `Mean error / ${unit}`, number: true },
      { title: `s / ${unit}`, number: true },
      { title: "Final digits: p", number: true },
      { title: "Criteria" },
    ],
    rows: of.members.map((member) => [
      nameOf(member.personId),
      member.errors && count(member.errors.n),
      shown(member.errors?.mean ?? null),
      shown(member.errors?.deviation ?? null),
      shown(figure(member, "digits")),
      verdictOf(member),
    ]),
  };
}

function studyTable(found: GaugeStudy): ClassTable {
  const { repeatability, readers, interaction, measurement, specimens, total } = found.components;
  const line = (name: string, deviation: Decimal): ClassCell[] => [
    name,
    shown(deviation),
    shown(total.isZero() ? null : deviation.div(total).times(100), 1),
  ];
  const { size } = found;
  return {
    title: "Practice with real material: repeatability and reproducibility",
    words: [
      `${size.readers} people read ${size.specimens} intervals ${size.repeats} times each; crossed study by analysis of variance (AIAG, Measurement Systems Analysis, 4th ed. 2010, chapter III).`,
      found.pooled
        ? `People do not differ by interval (p ${equalsProbability(found.interactionP)}): that part is counted with the repeatability.`
        : `People differ by interval (p ${equalsProbability(found.interactionP)}).`,
    ],
    columns: [
      { title: "Part" },
      { title: "s / div", number: true },
      { title: "of the total / %", number: true },
    ],
    rows: [
      line("Same person, same interval (repeatability)", repeatability),
      line("Between people (reproducibility)", readers),
      line("People by interval", interaction),
      line("Measurement, all together", measurement),
      line("Between intervals", specimens),
      line("Total", total),
    ],
  };
}

/** Every table of a class; advice in sentences stands beside them. */
export function classTables(
  { exercises, intervals, study }: ClassReport,
  nameOf: (personId: string) => string,
): ClassTable[] {
  const read = intervals.flatMap(({ interval, members }) =>
    members.map((one: MemberSample): ClassCell[] => [
      nameOf(one.personId),
      count(interval),
      count(one.n),
      shown(one.mean),
      shown(one.deviation),
    ]),
  );
  const material: ClassTable = {
    title: "Practice with real material: readings",
    words: intervals.flatMap(({ interval, anova }) =>
      anova ? [`Interval ${interval}. ${anovaWords(anova, "div")}`] : [],
    ),
    columns: [
      { title: "Person" },
      { title: "Interval", number: true },
      { title: "Readings", number: true },
      { title: "Mean / div", number: true },
      { title: "s / div", number: true },
    ],
    rows: read,
  };
  return [
    ...exercises.map((one) => exerciseTable(one, nameOf)),
    ...(read.length === 0 ? [] : [material]),
    ...(study ? [studyTable(study.found)] : []),
  ];
}
