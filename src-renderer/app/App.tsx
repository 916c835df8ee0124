import { useEffect } from "react";
import { type Bridge, BridgeProvider } from "../bridge/bridge-context.tsx";
import { playTone } from "../sound/window-sound.ts";
import type { KeyDispatcher } from "../window/key-dispatcher.ts";
import type { Navigation } from "../window/navigation.ts";
import { NavigationProvider } from "../window/navigation-context.tsx";
import { onRefusedForm } from "../window/refused-forms.ts";
import { KeyboardProvider } from "../window/use-command.tsx";
import { FaultBoundary } from "./FaultBoundary.tsx";
import { Shell } from "./Shell.tsx";

export interface AppProps {
  readonly bridge: Bridge;
  readonly navigation: Navigation;
  readonly dispatcher: KeyDispatcher;
}

/** The whole program in a window. */
export function App({ bridge, navigation, dispatcher }: AppProps) {
  useEffect(() => onRefusedForm(() => playTone("refused")), []);
  return (
    <FaultBoundary where="the program">
      <BridgeProvider bridge={bridge}>
        <NavigationProvider navigation={navigation}>
          <KeyboardProvider dispatcher={dispatcher}>
            <Shell />
          </KeyboardProvider>
        </NavigationProvider>
      </BridgeProvider>
    </FaultBoundary>
  );
}
