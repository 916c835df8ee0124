import { useMemo } from "react";
import { useClient } from "../../bridge/bridge-context.tsx";
import { type Opening, useOpened } from "../../live/use-opened.ts";
import { NotOpened } from "../../parts/NotOpened.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { type CountLocation, CountParts } from "./CountParts.tsx";
import { CountAtWork } from "./counts/CountAtWork.tsx";
import { type CountContext, loadCountContext } from "./state/count-context.ts";
import { isMoreStored, type LiveCount, liveCount } from "./state/live-counts.ts";

/** Count: the count at work, or the lists of counts, methods and recounts. */
export function CountScreen({ location }: { location: CountLocation }) {
  const { part, recordId } = location;
  return part === "counts" && recordId !== null ? (
    <OpenCount key={recordId} countId={recordId} />
  ) : (
    <CountParts location={location} />
  );
}

interface OpenedCount {
  readonly context: CountContext;
  readonly live: LiveCount;
}

function OpenCount({ countId }: { countId: string }) {
  const client = useClient();
  const navigation = useNavigation();
  const opening = useMemo((): Opening<() => OpenedCount | null, OpenedCount> => {
    let shown: LiveCount | null = null;
    const state = () => shown?.store.state();
    return {
      load: async () => {
        const before = state();
        const loaded = await loadCountContext(client, countId);
        if (!loaded.ok) return loaded;
        const context = loaded.value;
        const open = (): OpenedCount | null => {
          // An act went through meanwhile, a press or a pause: what was fetched may be older than it.
          if (isMoreStored(before, state())) return null;
          shown = liveCount(client, context.state);
          return { context, live: shown };
        };
        return { ok: true, value: open };
      },
      open: (take) => take(),
    };
  }, [client, countId]);
  const { opened, again } = useOpened(opening);
  if (opened.state === "open") return <CountAtWork {...opened.value} onReload={again} />;
  return (
    <NotOpened
      title="Count"
      what="count"
      opened={opened}
      onAgain={again}
      onOther={() => navigation.replace({ screen: "count", part: "counts", recordId: null })}
    />
  );
}
