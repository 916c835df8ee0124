import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../Button.tsx";
import { Notice } from "../Notice.tsx";
import { RefusalNotice } from "../RefusalNotice.tsx";

/** Opens the invented demo bench beside this one; nothing where the host cannot. */
export function DemoOffer() {
  const client = useClient();
  const [reply, setReply] = useState<CallReply<"bench.openDemo"> | "asked" | null>(null);
  const open = async (): Promise<void> => {
    setReply("asked");
    setReply(await client("bench.openDemo", {}));
  };
  if (!useCall("bench.status", {}).data?.offersDemo) return null;
  return (
    <>
      <p>
        To look around first:{" "}
        <Button disabled={reply === "asked"} onClick={() => void open()}>
          Open the demo bench
        </Button>{" "}
        an invented laboratory in a window of its own; nothing of it comes here.
      </p>
      {reply !== null && reply !== "asked" && !reply.ok ? <RefusalNotice error={reply.error} /> : null}
      {reply === "asked" || reply?.ok ? (
        <Notice
          live
          title="The demo bench opens in a window of its own. Building it the first time takes a while."
        />
      ) : null}
    </>
  );
}
