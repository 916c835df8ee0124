import { createContext, type ReactNode, useContext, useEffect, useSyncExternalStore } from "react";
import type { Navigation, NavigationState, UnsavedWork } from "./navigation.ts";

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

/** Asks before the screen is left while `work` is not null. Keep `work` stable between renders. */
export function useUnsavedWork(key: string, work: UnsavedWork | null): void {
  const navigation = useNavigation();
  useEffect(() => (work ? navigation.guard(key, work) : undefined), [navigation, key, work]);
}
