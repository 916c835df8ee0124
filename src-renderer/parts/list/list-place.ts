import { useState } from "react";

/** Where somebody is in a long list: what it is narrowed by, its order, its page and the row gone to last. */
export interface ListPlace {
  readonly words: string;
  /** Chosen values by the name of their filter; a missing or empty one narrows nothing. */
  readonly filters: Readonly<Record<string, string>>;
  readonly sort: string;
  readonly descending: boolean;
  readonly skip: number;
}

/** The row gone to last, and how far the screen was scrolled then. */
interface LeftAt {
  readonly row: string;
  readonly scroll: number;
}

/** Entries of one page of a list. */
export const PAGE = 50;

const NEWEST_FIRST: ListPlace = { words: "", filters: {}, sort: "number", descending: true, skip: 0 };

// While the window is open: Back finds the list as it was left.
const places = new Map<string, ListPlace>();
const leftAt = new Map<string, LeftAt>();

export interface ListPlaceView {
  readonly name: string;
  readonly place: ListPlace;
  /** Narrows or orders the list anew, from its first page unless a page is given. */
  readonly change: (change: Partial<ListPlace>) => void;
}

/** The place in the list of this name, as it was left. */
export function useListPlace(name: string): ListPlaceView {
  const [place, setPlace] = useState(() => places.get(name) ?? NEWEST_FIRST);
  const change = (changed: Partial<ListPlace>): void => {
    const next = { ...place, skip: 0, ...changed };
    places.set(name, next);
    leftAt.delete(name);
    setPlace(next);
  };
  return { name, place, change };
}

export const leftListAt = (name: string): LeftAt | null => leftAt.get(name) ?? null;

export function leaveListAt(name: string, row: string): void {
  leftAt.set(name, { row, scroll: document.getElementById("main")?.scrollTop ?? 0 });
}

/** Instants between which the days typed as filters lie, of this machine's zone; a date that is not complete narrows nothing. */
export function spanOf({ filters }: ListPlace): { since: string | null; until: string | null } {
  const { from = "", to = "" } = filters;
  return { since: midnightOf(from, 0), until: midnightOf(to, 1) };
}

function midnightOf(typed: string, daysOn: number): string | null {
  const [, year, month, day] = /^(\d{4})-(\d\d)-(\d\d)$/.exec(typed.trim()) ?? [];
  const at = new Date(Number(year), Number(month) - 1, Number(day) + daysOn);
  return Number.isNaN(at.getTime()) ? null : at.toISOString();
}

/** What the calls for sheets and counts have in common. */
export function searchOf(place: ListPlace) {
  const { words, filters, descending, skip } = place;
  const sort = (["number", "sample", "rows"] as const).find((one) => one === place.sort) ?? "number";
  return {
    ...{ words: words.trim(), personId: filters.person || null, familyId: filters.method || null },
    ...{ objectiveId: filters.objective || null, ...spanOf(place) },
    ...{ sort, descending, skip, count: PAGE },
  };
}
