import { useCallback, useSyncExternalStore } from "react";
import { Listeners } from "../../../live/listeners.ts";
import { rememberedTexts, rememberText } from "../../../window/window-memory.ts";
import {
  type Layouts,
  layoutOf,
  layoutsText,
  type MeasureLayout,
  readLayouts,
  withLayout,
} from "./measure-layout.ts";

const KEY = "linefall.columns";
const MEMORY = { storage: localStorage, page: document };
/** A column is dragged through many widths: the last one is kept, ms. */
const PAUSE = 300;

let layouts: Layouts | null = null;
let timer: ReturnType<typeof setTimeout> | undefined;
const listeners = new Listeners();

function all(): Layouts {
  layouts ??= readLayouts(rememberedTexts(KEY, MEMORY)[0] ?? "");
  return layouts;
}

/** The layout chosen last on this machine for sheets of a method. */
export function windowLayout(familyId: string): MeasureLayout {
  return layoutOf(all(), familyId);
}

function keep(familyId: string, layout: MeasureLayout): void {
  const next = withLayout(all(), familyId, layout);
  layouts = next;
  clearTimeout(timer);
  timer = setTimeout(() => rememberText(KEY, layoutsText(next), MEMORY), PAUSE);
  listeners.tell();
}

/** The layout, drawn again when it changes, and the ways to change it. */
export function useWindowLayout(familyId: string) {
  const layout = useSyncExternalStore(listeners.add, () => windowLayout(familyId));
  const change = useCallback(
    (part: Partial<MeasureLayout>) => keep(familyId, { ...windowLayout(familyId), ...part }),
    [familyId],
  );
  const setWidth = useCallback(
    (key: string, width: number | null) => {
      const { [key]: _, ...others } = windowLayout(familyId).widths;
      change({ widths: width === null ? others : { ...others, [key]: width } });
    },
    [change, familyId],
  );
  return { layout, change, setWidth };
}
