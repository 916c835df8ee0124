import type { OwnAgreement, OwnReading } from "#core/contract/records/own-reading.ts";
import type { AgreementReport, DimensionAgreement } from "#core/contract/records/second-reading.ts";
import { type DigitCounts, digitVerdict, ownDigits, plainDigits } from "#core/measurement/own-digits.ts";
import { decimal, sumOf } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  type ClosedSecondReading,
  closedSecondReadings,
  readingsOfCalibrations,
  readingsOfChecks,
  readingsOfClassMaterial,
  readingsOfSecondReadings,
  readingsOnSheets,
} from "../../store/repositories/own-reading-repository.ts";
import { findPerson, personInUse } from "../../store/repositories/people-repository.ts";
import {
  findSecondReading,
  reportOfSecondReading,
} from "../../store/repositories/second-reading-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";

function digitsOf(db: ReadableDb, personId: string): Pick<OwnReading, "digits" | "verdict"> {
  const sheets = ownDigits(readingsOnSheets(db, personId));
  const seconds = ownDigits(readingsOfSecondReadings(db, personId));
  const shown = (counts: DigitCounts) => ({ counts: [...counts], leftOut: null });
  const both = sheets.counts.map((count, digit) => count + (seconds.counts[digit] ?? 0));
  const verdict = digitVerdict(both);
  return {
    digits: [
      { source: "sheets", counts: [...sheets.counts], leftOut: sheets.leftOut },
      { source: "second readings", counts: [...seconds.counts], leftOut: seconds.leftOut },
      { source: "calibrations", ...shown(plainDigits(readingsOfCalibrations(db, personId))) },
      { source: "checks", ...shown(plainDigits(readingsOfChecks(db, personId))) },
      { source: "class material", ...shown(plainDigits(readingsOfClassMaterial(db, personId))) },
    ],
    verdict: verdict && { ...verdict, preferred: [...verdict.preferred] },
  };
}

/** Bias of the second reader in % of the mean of all readings of that dimension. */
function percentOf(
  { dimension, bias }: DimensionAgreement,
  { pairs }: AgreementReport,
): OwnAgreement["biasPercent"] {
  const own = pairs.filter((pair) => pair.dimension === dimension);
  const sum = sumOf(own.flatMap(({ first, second }) => [decimal(first), decimal(second)]));
  if (own.length === 0 || !sum.greaterThan(0)) return null;
  return textOfDecimal(
    decimal(bias)
      .times(100)
      .div(sum.div(2 * own.length)),
  );
}

/** The same with the signs of the first reader: own less other. */
function turned(agreement: OwnAgreement): OwnAgreement {
  const minus = (text: string) => textOfDecimal(decimal(text).negated());
  const { bias, biasInterval, biasPercent } = agreement;
  return {
    ...agreement,
    bias: minus(bias),
    biasInterval: { lower: minus(biasInterval.upper), upper: minus(biasInterval.lower) },
    biasPercent: biasPercent && minus(biasPercent),
  };
}

function agreementsOf(
  db: ReadableDb,
  personId: string,
  { id, sheetId, reader, firstReaders }: ClosedSecondReading,
): OwnAgreement[] {
  const isSecond = reader === personId;
  const isFirst = firstReaders.length === 1 && firstReaders[0] === personId;
  const stored = findSecondReading(db, id);
  const report = reportOfSecondReading(db, id);
  if ((!isSecond && !isFirst) || !stored || !report) return [];
  const sheet = requireSheet(db, sheetId);
  const { dimensions } = requireMethod(db, sheet.methodId, "methodId").definition;
  const nameOf = (person: string): string => findPerson(db, person)?.name ?? person;
  const other = isSecond ? firstReaders.map(nameOf).join(", ") : nameOf(reader);
  const { number } = stored;
  return report.dimensions.map((one): OwnAgreement => {
    const { n, bias, biasInterval, technicalError, p } = one;
    const asSecond: OwnAgreement = {
      secondReadingId: id,
      sheetId,
      sample: sheet.sample,
      number,
      other,
      dimension: dimensions.find(({ key }) => key === one.dimension)?.name ?? one.dimension,
      n,
      bias,
      biasInterval,
      biasPercent: percentOf(one, report),
      technicalError,
      p,
    };
    return isSecond ? asSecond : turned(asSecond);
  });
}

/** How the person at the bench reads, for that person alone. */
export function ownReadingServices({ db }: Deps) {
  return handlers({
    "ownReading.read": () => {
      const person = personInUse(db);
      if (!person) return null;
      return {
        personId: person.id,
        ...digitsOf(db, person.id),
        agreements: closedSecondReadings(db).flatMap((one) => agreementsOf(db, person.id, one)),
      };
    },
  });
}
