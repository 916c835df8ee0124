import type { CheckRecord } from "#core/contract/records/check.ts";
import type { Microscope } from "#core/contract/records/microscope.ts";
import type { SeriesTrend, SideBySide } from "#core/contract/records/trend.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { formatToPlaces } from "#core/quantity/rounding.ts";
import { readerPrecision } from "#core/statistics/reader-agreement.ts";
import { mean, memberAt } from "#core/statistics/sample.ts";
import { dateOfDay } from "#core/trends/civil-day.ts";
import { middleDay, type StepFinding, stepFinding, type WitnessSeries } from "#core/trends/common-step.ts";
import { percentOf, percentWords } from "#core/trends/percent-words.ts";
import { type PersonValue, personDifferences } from "#core/trends/person-difference.ts";
import type { HistoryCalibration, TrendHistory } from "./trend-history.ts";

type Finding = SideBySide["findings"][number];

/** A train's history with the names a reader knows it by. */
export interface NamedHistory {
  readonly trend: TrendHistory;
  readonly title: string;
  readonly microscope: Microscope;
}

function seriesPoint(
  one: HistoryCalibration,
  centre: Decimal,
  nameOf: (personId: string) => string,
): SeriesTrend["points"][number] {
  const { calibration, point, reference, date } = one;
  return {
    calibrationId: calibration.id,
    date,
    percent: textOfDecimal(percentOf(point.value.div(centre).minus(1))),
    percentUncertainty: textOfDecimal(percentOf(point.expandedUncertainty.div(centre))),
    person: nameOf(calibration.personId),
    micrometer: reference.micrometer,
    shown: `${calibration.shownFactor} ± ${calibration.shownUncertainty} µm/div`,
  };
}

function countingOf({ calibrations, history }: TrendHistory): HistoryCalibration[] {
  return calibrations.filter(({ point }, place) => !point.withdrawn && !history.lone.has(place));
}

const centreOf = (calibrations: readonly HistoryCalibration[]): Decimal =>
  mean(calibrations.map(({ point }) => point.value));

/** The whole history of a train as one series. */
export function trainSeries(named: NamedHistory, nameOf: (personId: string) => string): SeriesTrend[] {
  const { trend, title } = named;
  const counting = countingOf(trend);
  if (counting.length === 0) return [];
  const centre = centreOf(counting);
  return [
    {
      key: trend.train.id,
      title,
      trainId: trend.train.id,
      verdict: trend.verdict,
      points: counting.map((one) => seriesPoint(one, centre, nameOf)),
    },
  ];
}

/** Values as a witness gives them: a drift of the train itself is taken out, since it is not a step. */
function witnessSeries({ trend, title, microscope }: NamedHistory): WitnessSeries {
  const points = trend.history.baselines.flatMap(({ counting, chart }) => {
    const begin = trend.calibrations[counting[0] ?? -1]?.point.day ?? decimal(0);
    const slope = chart?.slopePerDay ?? decimal(0);
    return counting.map((place) => {
      const { point } = memberAt(trend.calibrations, place);
      return {
        day: point.day,
        value: point.value.minus(slope.times(point.day.minus(begin))),
        occasionUncertainty: point.occasionUncertainty,
        reference: point.reference,
      };
    });
  });
  return { key: trend.train.id, name: title, microscope: microscope.name, points };
}

/** Days worth asking about: the middle of each gap in which a train stepped, and each change of reference. */
function daysAsked(named: readonly NamedHistory[]): { readonly day: Decimal; readonly words: string }[] {
  const asked = named.flatMap(({ trend }) => [
    ...trend.history.steps.map(({ from, to, event }) => {
      const [before, after] = [memberAt(trend.calibrations, from), memberAt(trend.calibrations, to)];
      return {
        day: event?.day ?? middleDay(before.point.day, after.point.day),
        words: event
          ? `At ${event.words} (${dateOfDay(event.day.toNumber())})`
          : `Between ${before.date} and ${after.date}`,
      };
    }),
    ...trend.events
      .filter(({ kind }) => kind === "micrometer" || kind === "certificate")
      .map(({ day, words, date }) => ({ day, words: `At ${words} (${date})` })),
  ]);
  const sorted = asked.sort((a, b) => a.day.cmp(b.day));
  return sorted.filter((one, at) => at === 0 || one.day.minus(memberAt(sorted, at - 1).day).greaterThan(20));
}

const plainList = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

function findingWords(when: string, { pointsTo, seen, witnesses, relative }: StepFinding): string {
  const by = relative === null ? "" : percentWords(relative);
  const names = plainList(seen.map(({ series }) => series.name));
  const others = witnesses.length - seen.length;
  if (pointsTo === "micrometer") {
    return others === 0
      ? `${when}: all ${seen.length} trains changed by about ${by}: this points to the stage micrometer or its certificate, not to the trains.`
      : `${when}: ${names} changed by about ${by}, and only there was the reference changed: this points to the stage micrometer or its certificate.`;
  }
  if (pointsTo === "microscope") {
    return `${when}: ${names} changed by about ${by}${others > 0 ? `, the other ${others} did not` : ""}: this points to what they share, the head, the eyepiece or the reticle.`;
  }
  if (pointsTo === "train") {
    const each = seen.map(({ series, relative: own }) => `${series.name} ${percentWords(own)}`);
    return `${when}: ${plainList(each)}${others > 0 ? `, no change in the other ${others}` : ""}: this points to ${seen.length === 1 ? "that train" : "those trains"}, not to the stage micrometer.`;
  }
  return `${when}: none of the ${witnesses.length} trains changed beyond its uncertainty.`;
}

/** What the trains say together about each day on which something changed. */
export function stepFindings(named: readonly NamedHistory[]): Finding[] {
  const series = named.map(witnessSeries).filter(({ points }) => points.length > 0);
  if (series.length < 2) {
    return [
      {
        date: null,
        pointsTo: "nothing",
        words: "One train alone cannot tell the micrometer from the train: a second one is needed.",
      },
    ];
  }
  const findings = daysAsked(named).flatMap(({ day, words }): Finding[] => {
    const found = stepFinding(series, day);
    if (found.witnesses.length < 2) return [];
    return [{ date: dateOfDay(day.toNumber()), pointsTo: found.pointsTo, words: findingWords(words, found) }];
  });
  if (findings.length > 0) return findings.reverse();
  return [{ date: null, pointsTo: "nothing", words: "No train stepped, and no reference was changed." }];
}

/** One train as a series for each person, each against the mean of all. */
export function peopleSeries({ trend }: NamedHistory, nameOf: (personId: string) => string): SeriesTrend[] {
  const counting = countingOf(trend);
  if (counting.length === 0) return [];
  const centre = centreOf(counting);
  const people = [...new Set(counting.map(({ calibration }) => calibration.personId))];
  return people.map((personId) => ({
    key: personId,
    title: nameOf(personId),
    trainId: trend.train.id,
    verdict: null,
    points: counting
      .filter(({ calibration }) => calibration.personId === personId)
      .map((one) => seriesPoint(one, centre, nameOf)),
  }));
}

/** The level of its baseline at each calibration that counts, by the place of the calibration. */
function levelsOf({ history, calibrations }: TrendHistory): ReadonlyMap<number, Decimal> {
  const levels = history.baselines.flatMap(({ counting, chart }) => {
    if (!chart) return [];
    const begin = memberAt(calibrations, memberAt(counting, 0)).point.day;
    return counting.map((place): [number, Decimal] => {
      const after = memberAt(calibrations, place).point.day.minus(begin);
      return [place, chart.centre.plus((chart.slopePerDay ?? decimal(0)).times(after))];
    });
  });
  return new Map(levels);
}

/**
 * Repeatability and reproducibility of what people found, relative values of one train (ISO 5725-2:1994 7.4, a person
 * standing for a laboratory); nothing where fewer than two people, or nobody twice. It accuses nobody: whether people
 * differ beyond chance is said by `personDifferences`.
 */
export function precisionFinding(
  what: "calibrations" | "quick checks",
  values: readonly Pick<PersonValue, "person" | "relative">[],
): Finding[] {
  const people = [...new Set(values.map(({ person }) => person))];
  const readings = people.map((name) =>
    values.filter(({ person }) => person === name).map(({ relative }) => relative),
  );
  if (people.length < 2 || readings.every((own) => own.length < 2)) return [];
  const found = readerPrecision(readings);
  const size = (relative: Decimal): string => `${formatToPlaces(percentOf(relative), 3)} %`;
  return [
    {
      date: null,
      pointsTo: "nothing",
      words:
        `Of ${values.length} ${what} by ${people.length} people: s ${size(found.repeatability)} within a person, ` +
        `${size(found.betweenReaders)} between people, ${size(found.reproducibility)} together. Two by one person differ ` +
        `by more than ${size(found.repeatabilityLimit)}, two by different people by more than ` +
        `${size(found.reproducibilityLimit)} in 1 of 20 cases (ISO 5725-6:1994, 4.1.4).`,
    },
  ];
}

/** Whether people read the train differently. */
export function peopleFindings(
  { trend }: NamedHistory,
  checks: readonly CheckRecord[],
  nameOf: (personId: string) => string,
): Finding[] {
  const levels = levelsOf(trend);
  const placed = trend.calibrations.flatMap((one, place) => {
    const level = levels.get(place);
    return level ? [{ ...one, level }] : [];
  });
  const values = placed.map(
    ({ point, calibration, level }): PersonValue => ({
      person: nameOf(calibration.personId),
      relative: point.value.div(level).minus(1),
      uncertainty: point.occasionUncertainty.div(level),
    }),
  );
  const checked = checks.flatMap(({ calibrationId, checkedBy, result, withdrawn }) => {
    const of = placed.find(({ calibration }) => calibration.id === calibrationId);
    if (withdrawn !== null || !of) return [];
    return [{ person: nameOf(checkedBy), relative: decimal(result.factor).div(of.level).minus(1) }];
  });
  const precision = [
    ...precisionFinding("calibrations", values),
    ...precisionFinding("quick checks", checked),
  ];
  const differences = personDifferences(values);
  if (differences.length === 0) {
    return [
      { date: null, pointsTo: "nothing", words: "One person made all calibrations: nobody to compare with." },
      ...precision,
    ];
  }
  return [
    ...differences.map(
      ({ a, b, relative, limit, differs }): Finding => ({
        date: null,
        pointsTo: differs ? "person" : "nothing",
        words: differs
          ? `${a} finds ${percentWords(relative)} against ${b}, more than chance allows (${percentWords(limit).slice(1)}): compare interpupillary distance, sleeve and edge convention.`
          : `${a} and ${b} agree: ${percentWords(relative)}, within ${percentWords(limit).slice(1)}.`,
      }),
    ),
    ...precision,
  ];
}
