/** The name under which a call crosses from window to main process. */
export function channelOf(callName: string): string {
  return `linefall:${callName}`;
}

/** The window says, before it would close, what of it is not stored. */
export const UNSAVED_CHANNEL = "linefall-window:unsaved";
