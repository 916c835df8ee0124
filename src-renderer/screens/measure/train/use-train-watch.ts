import { useEffect, useState, useSyncExternalStore } from "react";
import type { Client } from "#core/contract/calls.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { playTone, speak } from "../../../sound/window-sound.ts";
import { objectiveById, type SheetContext } from "../sheet-context.ts";
import { settledObjective } from "./settled-objective.ts";
import { IDLE_BREAK, TrainWatch } from "./train-watch.ts";

const watches = new WeakMap<Client, TrainWatch>();

/** One watch for a window: it knows which sheet was confirmed last, whichever screens came between. */
function watchOf(client: Client): TrainWatch {
  const made = watches.get(client) ?? new TrainWatch({ now: () => Date.now(), onConfirm: () => undefined });
  watches.set(client, made);
  return made;
}

/** Watches the train of the sheet at work, and keeps what the person confirms. */
export function useTrainWatch(
  store: GridStore,
  context: SheetContext,
  person: Person | null,
): { readonly watch: TrainWatch; readonly problem: CallError | null } {
  const client = useClient();
  const watch = watchOf(client);
  const [problem, setProblem] = useState<CallError | null>(null);
  const asked = useSyncExternalStore(watch.subscribe, watch.asked);
  const { sheet } = context;
  const personId = person?.id ?? null;
  const interpupillary = person?.interpupillaryMm ?? "";

  useEffect(() => {
    if (personId !== null) watch.visit({ sheetId: sheet.id, personId });
  }, [watch, sheet.id, personId]);

  useEffect(() => {
    watch.onConfirm = (objectiveId) => {
      setProblem(null);
      playTone("objective");
      speak(`${objectiveById(context, objectiveId)?.magnification ?? "?"} times`);
      void settledObjective(store).then(async (inUse) => {
        const { intermediateMagnification } = sheet;
        const input = { sheetId: sheet.id, objectiveId, intermediateMagnification, interpupillary };
        const reply = await client("sheets.confirmTrain", { requestId: newRequestId(), ...input });
        // Another objective chosen meanwhile is confirmed by that choice or asked about.
        if (reply.ok || inUse !== objectiveId) return;
        setProblem(reply.error);
        watch.ask("opened");
      });
    };
  }, [watch, client, store, sheet, context, interpupillary]);

  useEffect(() => {
    let before = store.state();
    return store.subscribe(() => {
      const after = store.state();
      watch.gridChanged(before, after);
      before = after;
    });
  }, [watch, store]);

  useIdleBreak(watch);
  useEffect(() => {
    if (asked === "idle" || asked === "person") playTone("mark");
  }, [asked]);
  return { watch, problem };
}

/** Tells the watch of everything the person does in the window, and when nobody has done anything for long. */
function useIdleBreak(watch: TrainWatch): void {
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout>;
    const wait = (): void => {
      clearTimeout(timer);
      const left = watch.untilBreak();
      timer = setTimeout(
        () => {
          watch.look();
          wait();
        },
        left > 0 ? left : IDLE_BREAK,
      );
    };
    const touched = (): void => watch.touch();
    wait();
    // Before the grid hears it: the first key after a long sleep of the machine finds the question asked.
    window.addEventListener("keydown", touched, { capture: true });
    window.addEventListener("pointerdown", touched, { capture: true });
    return () => {
      clearTimeout(timer);
      window.removeEventListener("keydown", touched, { capture: true });
      window.removeEventListener("pointerdown", touched, { capture: true });
    };
  }, [watch]);
}
