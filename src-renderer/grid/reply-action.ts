import { errorWords, type Reply } from "#core/contract/reply.ts";
import type { ReplyAction } from "./grid-action.ts";

/** What the reply to one entry tells the grid. */
export function replyAction<T>(
  requestId: string,
  reply: Reply<T>,
  stored: (value: T) => ReplyAction,
): ReplyAction {
  if (reply.ok) return stored(reply.value);
  const { code } = reply.error;
  if (code === "host.lost") return { type: "lost", requestId };
  return { type: "refused", requestId, code, message: errorWords(reply.error) };
}
