/** An instant for people: date and minute of this machine's zone, `2026-01-31 14:05`. */
export function shownInstant(instant: string): string {
  const at = new Date(instant);
  const two = (part: number): string => String(part).padStart(2, "0");
  const date = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${date} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** The day of an instant for people, of this machine's zone. */
export function shownDay(instant: string): string {
  return shownInstant(instant).slice(0, 10);
}

/** The zone an instant is shown in: how far this machine's clock is from UTC at that time, `UTC+01:00`. */
export function shownZone(instant: string): string {
  const minutes = -new Date(instant).getTimezoneOffset();
  if (minutes === 0) return "UTC";
  const two = (part: number): string => String(Math.floor(part)).padStart(2, "0");
  const far = Math.abs(minutes);
  return `UTC${minutes < 0 ? "−" : "+"}${two(far / 60)}:${two(far % 60)}`;
}

/** As on screen, with the zone: for paper, which leaves the machine. */
export function printedInstant(instant: string): string {
  return `${shownInstant(instant)} ${shownZone(instant)}`;
}
