import { useEffect, useSyncExternalStore } from "react";
import type { OwnSettings } from "#core/contract/records/own-settings.ts";
import { useClient } from "../bridge/bridge-context.tsx";
import { useCall } from "../bridge/use-call.ts";
import { windowSettings } from "../window/own-settings.ts";

/** Joins the window's settings to those that the bench keeps of the person at it, and draws again when they change. */
export function useBenchSettings(): OwnSettings {
  const client = useClient();
  const { data: answer } = useCall("ownSettings.read", {});
  useEffect(
    () => windowSettings.use((personId, change) => client("ownSettings.change", { personId, change })),
    [client],
  );
  useEffect(() => {
    if (answer !== undefined) windowSettings.take(answer);
  }, [answer]);
  return useSyncExternalStore(windowSettings.subscribe, windowSettings.settings);
}
