import { useEffect } from "react";
import type { GridStore } from "./grid-store.ts";

/** What stands in the editor stays half-typed for the next visit; `flush` keeps it before the window may go away. */
export function useFlushOnLeaving(store: GridStore, flush: () => void): void {
  useEffect(() => {
    window.addEventListener("blur", flush);
    window.addEventListener("pagehide", flush);
    return () => {
      window.removeEventListener("blur", flush);
      window.removeEventListener("pagehide", flush);
      store.dispatch({ type: "blurred" });
      flush();
    };
  }, [store, flush]);
}
