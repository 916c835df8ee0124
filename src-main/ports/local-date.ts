/** The calendar date of an instant where the bench stands, ISO 8601; the same calendar as `clock.today()`. */
export function localDate(instant: string): string {
  const at = new Date(instant);
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${String(at.getFullYear()).padStart(4, "0")}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** First instant of a day of this machine's calendar, and first of the day after. */
export function instantsOfDay(day: string): { readonly from: string; readonly until: string } {
  const [year, month, date] = day.split("-").map(Number) as [number, number, number];
  const at = (add: number): string => {
    const instant = new Date(0);
    instant.setFullYear(year, month - 1, date + add);
    instant.setHours(0, 0, 0, 0);
    return instant.toISOString();
  };
  return { from: at(0), until: at(1) };
}
