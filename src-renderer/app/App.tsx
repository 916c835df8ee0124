import { type Bridge, BridgeProvider } from "../bridge/bridge-context.tsx";
import { FaultBoundary } from "./FaultBoundary.tsx";
import type { KeyDispatcher } from "./key-dispatcher.ts";
import type { Navigation } from "./navigation.ts";
import { NavigationProvider } from "./navigation-context.tsx";
import { Shell } from "./Shell.tsx";
import { KeyboardProvider } from "./use-command.tsx";

export interface AppProps {
  readonly bridge: Bridge;
  readonly navigation: Navigation;
  readonly dispatcher: KeyDispatcher;
}

/** The whole program in a window. */
export function App({ bridge, navigation, dispatcher }: AppProps) {
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
