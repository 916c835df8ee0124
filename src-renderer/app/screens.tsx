import type { ReactNode } from "react";
import type { Location, ScreenName } from "./location.ts";

type Screens = { readonly [N in ScreenName]?: (location: Extract<Location, { screen: N }>) => ReactNode };

/** The screens there are; the rail shows those and no others. */
export const SCREEN_OF: Screens = {};

/** Draws the screen of a location. */
export function drawScreen(location: Location): ReactNode {
  const draw = SCREEN_OF[location.screen] as ((location: Location) => ReactNode) | undefined;
  return draw?.(location) ?? null;
}
