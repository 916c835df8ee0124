import type { PracticeCertificate } from "#core/contract/records/competence.ts";
import type { PracticeAttempt, PracticeFigure } from "#core/contract/records/practice.ts";
import { lastDayOf } from "#core/practice/competence.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { probabilityWords } from "#core/quantity/probability-words.ts";
import { formatToPlaces } from "#core/quantity/rounding.ts";
import type { PracticeFigureName } from "#core/vocabulary/practice.ts";

interface FigureWords {
  readonly name: string;
  readonly unit: string;
  readonly places: number;
  readonly meaning: string;
  /** How its criterion bounds it; at most, where nothing is said. */
  readonly asked?: "at least" | "off 100 by at most";
}

const EDGES_READ = "Both edges together, against what a perfect reader reads.";

export const FIGURE_WORDS: Readonly<Record<PracticeFigureName, FigureWords>> = {
  bias: { name: "Mean error", unit: "div", places: 3, meaning: "Above zero: you read too high." },
  scatter: {
    name: "Scatter of single readings",
    unit: "div",
    places: 3,
    meaning: "Standard deviation of the errors; rounding to tenths alone gives 0.029.",
  },
  digits: {
    name: "Final digits: p",
    unit: "",
    places: 3,
    meaning:
      "Chance of digits as uneven as these when every tenth is read as often; small: some are favoured.",
  },
  learning: {
    name: "Change of the error from reading to reading",
    unit: "div",
    places: 4,
    meaning: "Below zero: you got better over the run.",
  },
  factor: {
    name: "Error of the factor",
    unit: "%",
    places: 3,
    meaning: "Mean of the settings against the drawn factor; above zero: your factor is too large.",
  },
  settings: {
    name: "Scatter of the settings",
    unit: "%",
    places: 3,
    meaning: "Standard deviation of the factor from setting to setting.",
  },
  en: {
    name: "Eₙ",
    unit: "",
    places: 2,
    meaning: "Error of the factor against its own U: up to 1, your U covers the truth.",
  },
  span: {
    name: "Span used, mean",
    unit: "div",
    places: 1,
    asked: "at least",
    meaning: "A long span makes small errors of reading count less.",
  },
  turned: {
    name: "Turn left in the slide, mean",
    unit: "°",
    places: 1,
    meaning: "A turned slide makes the factor too small: 1° by 0.02 %, 5° by 0.4 %.",
  },
  size: {
    name: "Mean error of the sizes",
    unit: "%",
    places: 2,
    meaning: "Above zero: your sizes are too large. Rows with a wrong objective are left out.",
  },
  sizes: {
    name: "Scatter of the sizes",
    unit: "%",
    places: 2,
    meaning: "Standard deviation of the errors of single sizes.",
  },
  "bias-10": { name: "Mean error, 10×", unit: "div", places: 2, meaning: EDGES_READ },
  "scatter-10": { name: "Scatter, 10×", unit: "div", places: 2, meaning: EDGES_READ },
  "bias-20": { name: "Mean error, 20×", unit: "div", places: 2, meaning: EDGES_READ },
  "scatter-20": { name: "Scatter, 20×", unit: "div", places: 2, meaning: EDGES_READ },
  "bias-40": { name: "Mean error, 40×", unit: "div", places: 2, meaning: EDGES_READ },
  "scatter-40": { name: "Scatter, 40×", unit: "div", places: 2, meaning: EDGES_READ },
  slips: {
    name: "Rows with a wrong objective",
    unit: "%",
    places: 0,
    meaning: "Another objective was in the path than entered; exact limits.",
  },
  "other-edge": {
    name: "Read at another edge",
    unit: "%",
    places: 0,
    meaning: "Of the sizes that can tell: nearer to the inside of the wall, or to the spines’ tips.",
  },
  recovery: {
    name: "Counted of what was there",
    unit: "%",
    places: 1,
    asked: "off 100 by at most",
    meaning: "Below 100: you counted too few. The interval follows how much your fields differ.",
  },
  missed: { name: "Missed", unit: "%", places: 0, meaning: "Of the objects inside the square." },
  twice: {
    name: "Counted twice",
    unit: "%",
    places: 0,
    meaning: "Of your presses: for an object that had one already, or for nothing.",
  },
  edges: {
    name: "Against the edge rule",
    unit: "%",
    places: 0,
    meaning: "Of the objects on an edge: counted though out, or left out though in.",
  },
  dirt: { name: "Dirt counted", unit: "%", places: 0, meaning: "Of the grains of dirt." },
  "first-as-second": {
    name: "Kind 1 taken for 2",
    unit: "%",
    places: 0,
    meaning: "Of the objects of kind 1 that you pressed for.",
  },
  "second-as-first": {
    name: "Kind 2 taken for 1",
    unit: "%",
    places: 0,
    meaning: "Of the objects of kind 2 that you pressed for.",
  },
  right: {
    name: "Right answers",
    unit: "%",
    places: 0,
    asked: "at least",
    meaning: "With exact limits: few answers leave them wide.",
  },
  reasons: {
    name: "Right answers with the right reason",
    unit: "%",
    places: 0,
    meaning: "A right choice for a wrong reason goes wrong the next time.",
  },
  looks: {
    name: "Looks taken, mean",
    unit: "",
    places: 1,
    meaning: "How many parts of the view you looked at before you answered.",
  },
  seconds: { name: "Time for an answer, median", unit: "s", places: 1, meaning: "" },
};

function number(value: string, places: number): string {
  return trueMinus(formatToPlaces(decimal(value), places));
}

export function figureValue({ name, value }: PracticeFigure): string {
  const { places, unit } = FIGURE_WORDS[name];
  return name === "digits" ? probabilityWords(Number(value)) : `${number(value, places)} ${unit}`.trim();
}

export function figureInterval({ name, lower, upper }: PracticeFigure): string {
  const { places } = FIGURE_WORDS[name];
  return lower === null || upper === null ? "" : `${number(lower, places)} to ${number(upper, places)}`;
}

export function figureLimit({ name, limit, exceeded }: PracticeFigure): string {
  if (limit === null) return "";
  const { unit, asked = "at most" } = FIGURE_WORDS[name];
  const wanted = `${asked} ${limit} ${unit}`.trim();
  if (asked === "at least") return exceeded ? `${wanted}: shown not to be reached` : wanted;
  return exceeded ? `${wanted}: shown to be exceeded` : `${wanted}: not shown to be exceeded`;
}

/** The figures by which an exercise is known, in a line. */
export function headlineWords(attempt: PracticeAttempt): string {
  const figures = attempt.result?.figures ?? [];
  return exerciseOf(attempt)
    .headline.flatMap((name) => figures.filter((figure) => figure.name === name))
    .map((figure) => `${FIGURE_WORDS[figure.name].name} ${figureValue(figure)}`)
    .join("; ");
}

export function verdictWords({ result, endedAt }: PracticeAttempt): string {
  if (result) return result.verdict === "met" ? "Criteria met" : "Criteria not met";
  return endedAt === null ? "Under way" : "Given up";
}

/** A met attempt as proof. */
export interface ProofOfAttempt {
  /** The last day of it, ISO 8601. */
  readonly until: string;
  /** The day on which an examiner took it back; null: it stands. */
  readonly withdrawnOn: string | null;
  /** The laboratory asks for an examiner's signature, and there is none yet. */
  readonly unsigned: boolean;
}

/**
 * What an attempt proves; null: nothing.
 * @param certificate the examiner's signature under it, if there is one
 * @param bySignature whether the laboratory takes it as proof only once signed
 */
export function proofOfAttempt(
  { result, endedAt, criteria }: PracticeAttempt,
  certificate: PracticeCertificate | undefined,
  bySignature: boolean,
): ProofOfAttempt | null {
  if (result === null || endedAt === null) return null;
  const until = lastDayOf({ met: result.verdict === "met", endedAt, months: criteria.months });
  if (until === null) return null;
  const withdrawnOn = certificate?.withdrawn?.at.slice(0, 10) ?? null;
  return { until, withdrawnOn, unsigned: bySignature && certificate === undefined };
}

/** In a column named “Proven until”. */
export function untilWords(proof: ProofOfAttempt | null): string {
  if (proof === null) return "";
  if (proof.withdrawnOn !== null) return `withdrawn ${proof.withdrawnOn}`;
  return proof.unsigned ? `${proof.until}, once signed` : proof.until;
}

/** In a sentence. */
export function proofWords({ until, withdrawnOn, unsigned }: ProofOfAttempt): string {
  if (withdrawnOn !== null) return `certificate withdrawn on ${withdrawnOn}, no longer taken as proven`;
  return `taken as proven until ${until}${unsigned ? ", once an examiner has signed" : ""}`;
}
