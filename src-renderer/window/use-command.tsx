import { createContext, type ReactNode, useContext, useLayoutEffect, useRef } from "react";
import { type CommandHandler, KeyDispatcher } from "./key-dispatcher.ts";
import type { CommandId } from "./keymap.ts";

// Layout effects throughout: what a person sees must already hear its keys, also on a busy machine.

const DispatcherContext = createContext(new KeyDispatcher());
const LayerContext = createContext(0);

/** Hears keys for everything inside. */
export function KeyboardProvider({
  dispatcher,
  children,
}: {
  dispatcher: KeyDispatcher;
  children: ReactNode;
}) {
  useLayoutEffect(() => dispatcher.listen(window), [dispatcher]);
  return <DispatcherContext value={dispatcher}>{children}</DispatcherContext>;
}

/** While drawn, only commands given inside run: for a dialog. */
export function KeyLayer({ children }: { children: ReactNode }) {
  const dispatcher = useContext(DispatcherContext);
  const layer = useContext(LayerContext) + 1;
  useLayoutEffect(() => dispatcher.openLayer(layer), [dispatcher, layer]);
  return <LayerContext value={layer}>{children}</LayerContext>;
}

/** The commands that can be run outside of the dialogs, and the way to run one once they are closed. */
export function useCommandsBelow(): {
  readonly ids: readonly CommandId[];
  readonly run: (id: CommandId) => void;
} {
  const dispatcher = useContext(DispatcherContext);
  return { ids: dispatcher.given(0), run: (id) => dispatcher.run(id, 0) };
}

/** Gives the handler of a command of the key table while the component is drawn; null: none at the moment. */
export function useCommand(id: CommandId, run: CommandHandler | null): void {
  const dispatcher = useContext(DispatcherContext);
  const layer = useContext(LayerContext);
  const latest = useRef(run);
  useLayoutEffect(() => {
    latest.current = run;
  });
  const given = run !== null;
  useLayoutEffect(
    () => (given ? dispatcher.register(id, layer, (chord) => latest.current?.(chord)) : undefined),
    [dispatcher, id, layer, given],
  );
}
