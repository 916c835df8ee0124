import { LiveStore } from "../live/live-store.ts";
import type { GridAction } from "./grid-action.ts";
import type { GridEffect } from "./grid-effect.ts";
import { reduceGrid } from "./grid-reducer.ts";
import type { GridState } from "./grid-state.ts";

/** The live state of one grid. */
export class GridStore extends LiveStore<GridState, GridAction, GridEffect> {
  constructor(state: GridState, newId: () => string) {
    super(state, (before, action) => reduceGrid(before, action, newId));
  }
}
