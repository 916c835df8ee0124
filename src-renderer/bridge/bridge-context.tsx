import { createContext, type ReactNode, useContext, useEffect } from "react";
import { type Client, changedBy } from "#core/contract/calls.ts";
import { CallCache } from "./call-cache.ts";
import { ChangesElsewhere } from "./changes-elsewhere.ts";
import { createClient } from "./client.ts";
import type { Transport } from "./transport.ts";

/** What a window asks of whoever opened it, beside the calls. */
export interface HostActs {
  /** Says what would not be stored if the window closed now; before it is asked to stay. */
  readonly tellUnsaved: (words: readonly string[]) => void;
  /** Draws the program again with nothing remembered of the bench. */
  readonly readAnew: () => void;
}

export interface Bridge {
  readonly client: Client;
  readonly cache: CallCache;
  readonly elsewhere: ChangesElsewhere;
  readonly host: HostActs;
}

const NO_ACTS: HostActs = { tellUnsaved: () => undefined, readAnew: () => undefined };

/** A client and its cache over one transport. */
export function createBridge(transport: Transport, host: HostActs = NO_ACTS): Bridge {
  const cache = new CallCache();
  const client = createClient(transport, { onDone: (name) => cache.changed(changedBy(name)) });
  cache.use(client);
  return { client, cache, elsewhere: new ChangesElsewhere(client, cache), host };
}

const BridgeContext = createContext<Bridge | null>(null);

export function BridgeProvider({ bridge, children }: { bridge: Bridge; children: ReactNode }) {
  useEffect(() => bridge.elsewhere.follow(), [bridge]);
  return <BridgeContext value={bridge}>{children}</BridgeContext>;
}

export function useBridge(): Bridge {
  const bridge = useContext(BridgeContext);
  if (!bridge) throw new Error("A screen was drawn outside BridgeProvider.");
  return bridge;
}

/** The typed client, for acts. */
export function useClient(): Client {
  return useBridge().client;
}
