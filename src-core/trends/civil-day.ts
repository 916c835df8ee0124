import { InputError } from "../quantity/input-error.ts";

const DATE = /^(\d{4})-(\d\d)-(\d\d)$/;
const DAYS_PER_ERA = 146_097;
/** Days from 0000-03-01 to 1970-01-01 in the proleptic Gregorian calendar. */
const TO_1970 = 719_468;

function partsOf(field: string, date: string) {
  const match = DATE.exec(date);
  if (!match) throw new InputError(field, "is not a date: write it as 2026-01-31");
  const [year, month, dayOfMonth] = match.slice(1).map(Number) as [number, number, number];
  return { year, month, dayOfMonth };
}

/**
 * Days from 1970-01-01 to a date of the Gregorian calendar (ISO 8601). Years are counted from March, so that the leap
 * day is a year's last.
 * @throws InputError when the text is not a date that exists
 */
export function dayOfDate(field: string, date: string): number {
  const { year, month, dayOfMonth } = partsOf(field, date);
  const marchYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(marchYear / 400);
  const yearOfEra = marchYear - era * 400;
  const dayOfYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + dayOfMonth - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  const day = era * DAYS_PER_ERA + dayOfEra - TO_1970;
  if (dateOfDay(day) !== date) throw new InputError(field, "is not a day of the calendar");
  return day;
}

/** The date of a day counted from 1970-01-01; the inverse of `dayOfDate`. Part days are dropped. */
export function dateOfDay(day: number): string {
  const shifted = Math.floor(day) + TO_1970;
  const era = Math.floor(shifted / DAYS_PER_ERA);
  const dayOfEra = shifted - era * DAYS_PER_ERA;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const fromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const dayOfMonth = dayOfYear - Math.floor((153 * fromMarch + 2) / 5) + 1;
  const month = fromMarch < 10 ? fromMarch + 3 : fromMarch - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(dayOfMonth).padStart(2, "0")}`;
}

/** Days from one date to another. @throws InputError when either is not a date that exists */
export const daysBetween = (from: string, to: string): number =>
  dayOfDate("to", to) - dayOfDate("from", from);

/** The date so many days after another. @throws InputError when it is not a date that exists */
export const daysAfter = (date: string, days: number): string => dateOfDay(dayOfDate("date", date) + days);

/**
 * The date so many months after another; the last day of the month where that month is too short.
 * @throws InputError when it is not a date that exists
 */
export function monthsAfter(date: string, months: number): string {
  const { year, month, dayOfMonth } = partsOf("date", date);
  const firstOf = (count: number): number => {
    const [inYear, inMonth] = [Math.floor(count / 12), (count % 12) + 1];
    return dayOfDate("months", `${String(inYear).padStart(4, "0")}-${String(inMonth).padStart(2, "0")}-01`);
  };
  const reached = year * 12 + (month - 1) + months;
  const first = firstOf(reached);
  return dateOfDay(first + Math.min(dayOfMonth, firstOf(reached + 1) - first) - 1);
}
