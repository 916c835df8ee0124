import { useEffect, useRef, useState } from "react";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { type CountLocation, CountParts } from "./CountParts.tsx";
import { CountAtWork } from "./counts/CountAtWork.tsx";
import { type CountContext, loadCountContext } from "./state/count-context.ts";
import { type LiveCount, liveCount } from "./state/live-counts.ts";

/** Count: the count at work, or the lists of counts, methods and recounts. */
export function CountScreen({ location }: { location: CountLocation }) {
  const { part, recordId } = location;
  return part === "counts" && recordId !== null ? (
    <OpenCount key={recordId} countId={recordId} />
  ) : (
    <CountParts location={location} />
  );
}

type Opened =
  | { readonly state: "fetching" }
  | { readonly state: "refused"; readonly error: CallError }
  | { readonly state: "open"; readonly context: CountContext; readonly live: LiveCount };

function OpenCount({ countId }: { countId: string }) {
  const client = useClient();
  const navigation = useNavigation();
  const [opened, setOpened] = useState<Opened>({ state: "fetching" });
  const [attempt, setAttempt] = useState(0);
  const shown = useRef<LiveCount | null>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` asks again
  useEffect(() => {
    let isWanted = true;
    const before = shown.current?.store.state().count;
    void loadCountContext(client, countId).then((loaded) => {
      if (!isWanted) return;
      if (!loaded.ok) setOpened({ state: "refused", error: loaded.error });
      // An act went through meanwhile, as a pause: what was fetched may be older than it.
      else if (shown.current?.store.state().count !== before) setAttempt((count) => count + 1);
      else {
        const live = liveCount(client, loaded.value.state);
        shown.current = live;
        setOpened({ state: "open", context: loaded.value, live });
      }
    });
    return () => {
      isWanted = false;
    };
  }, [client, countId, attempt]);

  const again = (): void => setAttempt((before) => before + 1);
  if (opened.state === "open") {
    return <CountAtWork context={opened.context} live={opened.live} onReload={again} />;
  }
  return (
    <ScreenFrame title="Count">
      {opened.state === "fetching" ? (
        <p role="status">Fetching the count …</p>
      ) : (
        <Notice kind="fault" live title={opened.error.message} hint={opened.error.hint}>
          <p>
            <Button onClick={again}>Try again</Button>{" "}
            <Button onClick={() => navigation.replace({ screen: "count", part: "counts", recordId: null })}>
              Choose another count
            </Button>
          </p>
        </Notice>
      )}
    </ScreenFrame>
  );
}
