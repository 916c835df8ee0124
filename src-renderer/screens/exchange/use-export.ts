import { useEffect, useRef, useState } from "react";
import type { Client } from "#core/contract/calls.ts";
import type { ExportProgress } from "#core/contract/records/exchange.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { leaveExport } from "../../bridge/exports-left.ts";

const LOOK_EVERY_MS = 200;

export type ExportView =
  | { readonly at: "idle" }
  | { readonly at: "asking" }
  | { readonly at: "nowhere" }
  | { readonly at: "known"; readonly progress: ExportProgress }
  | { readonly at: "refused"; readonly error: CallError };

export interface Exporting {
  readonly view: ExportView;
  readonly busy: boolean;
  /** Asks for the file by the call that makes it. */
  readonly begin: (ask: (client: Client) => Promise<Reply<ExportProgress | null>>) => Promise<void>;
  readonly cancel: () => Promise<void>;
}

/** One export: begun, followed while it is written, and stopped on demand. */
export function useExport(): Exporting {
  const client = useClient();
  const [view, setView] = useState<ExportView>({ at: "idle" });
  const alive = useRef(true);
  const writing = view.at === "known" && view.progress.state === "writing" ? view.progress.exportId : null;
  const left = useRef(writing);
  left.current = writing;
  useEffect(() => {
    alive.current = true;
    return () => {
      alive.current = false;
      // Nobody looks at it any more: what becomes of it is told wherever the person is then.
      if (left.current !== null) leaveExport(left.current);
    };
  }, []);

  useEffect(() => {
    if (writing === null) return undefined;
    const look = async (): Promise<void> => {
      const reply = await client("exports.status", { exportId: writing });
      if (!alive.current) return;
      setView(reply.ok ? { at: "known", progress: reply.value } : { at: "refused", error: reply.error });
    };
    const timer = setInterval(() => void look(), LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [client, writing]);

  return {
    view,
    busy: view.at === "asking" || writing !== null,
    async begin(ask) {
      setView({ at: "asking" });
      const reply = await ask(client);
      if (!alive.current && reply.ok && reply.value) leaveExport(reply.value.exportId);
      if (!reply.ok) setView({ at: "refused", error: reply.error });
      else setView(reply.value ? { at: "known", progress: reply.value } : { at: "nowhere" });
    },
    async cancel() {
      if (writing !== null) await client("exports.cancel", { exportId: writing });
    },
  };
}
