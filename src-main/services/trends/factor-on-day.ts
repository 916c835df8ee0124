import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { FactorOnDay } from "#core/contract/records/trend.ts";
import { instantsOfDay, localDate } from "../../ports/local-date.ts";
import type { ReferenceName } from "../../store/repositories/trend-repository.ts";

interface Names {
  readonly references: ReadonlyMap<string, ReferenceName>;
  readonly nameOf: (personId: string) => string;
}

function cautionsOf(one: CalibrationRecord, day: string, reference: ReferenceName | undefined): string[] {
  const cautions: string[] = [];
  if (one.dueOn !== null && one.dueOn < day) cautions.push(`The calibration had been due on ${one.dueOn}.`);
  if (reference && reference.dueOn < day) {
    cautions.push(`The certificate had been due on ${reference.dueOn}.`);
  }
  if (one.state === "withdrawn" && one.endedAt !== null) {
    cautions.push(`Withdrawn on ${localDate(one.endedAt)}: ${one.endReason ?? ""}`);
  }
  return cautions;
}

/** The calibrations of a train that were in force at some time of a day of this machine's calendar, oldest first. */
export function factorsOnDay(
  calibrations: readonly CalibrationRecord[],
  day: string,
  { references, nameOf }: Names,
): FactorOnDay["factors"] {
  const { from, until } = instantsOfDay(day);
  return calibrations
    .flatMap((one): FactorOnDay["factors"] => {
      const { result, inForceAt, endedAt } = one;
      if (!result || inForceAt === null || inForceAt >= until) return [];
      if (endedAt !== null && endedAt <= from) return [];
      const reference = references.get(one.certificateId);
      return [
        {
          calibrationId: one.id,
          from: inForceAt,
          until: endedAt,
          shownFactor: result.shownFactor,
          shownUncertainty: result.shownUncertainty,
          coverageFactor: result.coverageFactor,
          person: nameOf(one.personId),
          micrometer: reference?.micrometer ?? one.stageMicrometerId,
          certificate: reference?.certificate ?? one.certificateId,
          laboratory: reference?.laboratory ?? "",
          certificateDueOn: reference?.dueOn ?? (one.dueOn as string),
          cautions: cautionsOf(one, day, reference),
        },
      ];
    })
    .sort((a, b) => (a.from < b.from ? -1 : 1));
}
