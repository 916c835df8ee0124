/** The name under which a call crosses from window to main process. */
export function channelOf(callName: string): string {
  return `linefall:${callName}`;
}
