import { useEffect } from "react";
import { useBridge } from "../bridge/bridge-context.tsx";
import { unstoredOfCounts } from "../screens/count/state/live-counts.ts";
import { unstoredOfSheets } from "../screens/measure/live-sheets.ts";
import { useNavigation } from "../window/navigation-context.tsx";

/**
 * Keeps the window from closing while something of it is not stored, whatever screen is open. The one place that does:
 * a host must answer it (in Electron `will-prevent-unload`), or the window cannot be closed at all.
 */
export function useUnloadGuard(): void {
  const { client, host } = useBridge();
  const navigation = useNavigation();
  useEffect(() => {
    const guard = (event: BeforeUnloadEvent): void => {
      const unsaved = [...unstoredOfSheets(client), ...unstoredOfCounts(client), ...navigation.unsavedWork()];
      if (unsaved.length === 0) return;
      host.tellUnsaved(unsaved);
      event.preventDefault();
    };
    window.addEventListener("beforeunload", guard);
    return () => window.removeEventListener("beforeunload", guard);
  }, [client, host, navigation]);
}
