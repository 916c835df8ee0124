import { createContext, type ReactNode, useContext, useSyncExternalStore } from "react";
import type { Navigation, NavigationState } from "./navigation.ts";

const NavigationContext = createContext<Navigation | null>(null);

export function NavigationProvider({
  navigation,
  children,
}: {
  navigation: Navigation;
  children: ReactNode;
}) {
  return <NavigationContext value={navigation}>{children}</NavigationContext>;
}

/** The navigation itself: `go`, `back`, `replace`. */
export function useNavigation(): Navigation {
  const navigation = useContext(NavigationContext);
  if (!navigation) throw new Error("A screen was drawn outside NavigationProvider.");
  return navigation;
}

/** Where the person is now. */
export function useNavigationState(): NavigationState {
  const navigation = useNavigation();
  return useSyncExternalStore(navigation.subscribe, navigation.state);
}
