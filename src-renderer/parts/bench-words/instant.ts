/** An instant for people: date and minute of this machine's zone, `2026-01-31 14:05`. */
export function shownInstant(instant: string): string {
  const at = new Date(instant);
  const two = (part: number): string => String(part).padStart(2, "0");
  const date = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${date} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
