import type { CallError } from "#core/contract/reply.ts";
import { Notice } from "./Notice.tsx";

/** Why something was refused, and what to do next; work that the person stopped is no fault. */
export function RefusalNotice({
  error: { code, message, hint },
}: {
  error: Pick<CallError, "message" | "hint"> & Partial<Pick<CallError, "code">>;
}) {
  return <Notice kind={code === "work.stopped" ? "care" : "fault"} live title={message} hint={hint} />;
}
