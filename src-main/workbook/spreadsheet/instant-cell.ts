/** An instant as the true date a spreadsheet shows: its UTC wall clock. Headers name the zone. */
export function instantDate(instant: string): Date {
  return new Date(instant);
}

/** A calendar date as a true date at midnight. */
export function calendarDate(date: string): Date {
  return new Date(`${date}T00:00:00.000Z`);
}
