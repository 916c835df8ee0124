import { useSyncExternalStore } from "react";
import { rememberedTexts, rememberText } from "./window-memory.ts";

/** What a person folds away to see more rows; kept on this machine. */
export const VIEW_CHOICES = ["compact", "foldedHead", "narrowRail"] as const;
export type ViewChoice = (typeof VIEW_CHOICES)[number];
type Chosen = ReadonlySet<ViewChoice>;

const KEY = "linefall.view";
const MEMORY = { storage: localStorage, page: document };

let chosen: Chosen | null = null;
const listeners = new Set<() => void>();

function all(): Chosen {
  const words = rememberedTexts(KEY, MEMORY)[0]?.split(".") ?? [];
  chosen ??= new Set(VIEW_CHOICES.filter((one) => words.includes(one)));
  return chosen;
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

function change(choice: ViewChoice, isOn: boolean): void {
  const others = [...all()].filter((one) => one !== choice);
  chosen = new Set(isOn ? [...others, choice] : others);
  rememberText(KEY, [...chosen].join("."), MEMORY);
  for (const listener of listeners) listener();
}

/** Whether something is chosen, drawn again when that changes, and the way to turn it over. */
export function useViewChoice(choice: ViewChoice): readonly [boolean, () => void] {
  const isOn = useSyncExternalStore(subscribe, () => all().has(choice));
  return [isOn, () => change(choice, !isOn)];
}
