/** Today's calendar date at this machine, ISO 8601. */
export function today(now: Date = new Date()): string {
  const pad = (part: number): string => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`;
}
