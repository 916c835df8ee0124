import { useState } from "react";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../bridge/bridge-context.tsx";
import { useCall } from "../bridge/use-call.ts";
import { Button } from "./Button.tsx";

/** Opens the folder of a finished export, where the host can. */
export function ShowInFolder({ exportId }: { exportId: string }) {
  const client = useClient();
  const status = useCall("bench.status", {}).data;
  const [refused, setRefused] = useState<CallError | null>(null);
  if (!status?.showsFolders) return null;
  const show = async (): Promise<void> => {
    const reply = await client("exports.showInFolder", { exportId });
    setRefused(reply.ok ? null : reply.error);
  };
  return (
    <>
      <Button look="quiet" onClick={() => void show()}>
        Show in folder
      </Button>
      {refused ? (
        <span role="alert">
          {refused.message} {refused.hint}
        </span>
      ) : null}
    </>
  );
}
