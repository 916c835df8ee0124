import { useSyncExternalStore } from "react";
import {
  OwnSettings,
  type OwnSettingsChange,
  RestSettings,
  SoundSettings,
  USUAL_SETTINGS,
} from "#core/contract/records/own-settings.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { Listeners } from "../live/listeners.ts";
import { rememberedTheme } from "./theme.ts";
import { rememberedTexts, rememberText, type WindowMemory } from "./window-memory.ts";

const KEY = "linefall.own";

/** Sends what a person has changed to the bench. */
export type SendSettings = (personId: string, change: OwnSettingsChange) => Promise<Reply<OwnSettings>>;

/** What the bench says of the person at it; null: nobody is. */
export type SettingsAnswer = { readonly personId: string; readonly settings: OwnSettings | null } | null;

interface Remembered {
  /** Whose settings they are; null: nobody's, chosen before anybody was at the bench. */
  readonly of: string | null;
  readonly settings: OwnSettings;
}

function parsed<T>(memory: WindowMemory, key: string, read: (value: unknown) => T): T | null {
  for (const text of rememberedTexts(key, memory)) {
    try {
      return read(JSON.parse(text));
    } catch {
      // Written by another version, or by nobody: the next one.
    }
  }
  return null;
}

/** Settings of somebody who has chosen none: the usual ones, and what this machine kept in earlier versions. */
export function startingSettings(memory: WindowMemory): OwnSettings {
  const folded = rememberedTexts("linefall.view", memory)[0]?.split(".") ?? [];
  return {
    ...USUAL_SETTINGS,
    theme: rememberedTheme(memory),
    compact: folded.includes("compact"),
    foldedHead: folded.includes("foldedHead"),
    narrowRail: folded.includes("narrowRail"),
    sound: parsed(memory, "linefall.sound", (value) => SoundSettings.parse(value)) ?? USUAL_SETTINGS.sound,
    rest: parsed(memory, "linefall.rest", (value) => RestSettings.parse(value)) ?? USUAL_SETTINGS.rest,
  };
}

function remembered(memory: WindowMemory): Remembered {
  const kept = parsed(memory, KEY, (value) => {
    const { of, settings } = value as { of: unknown; settings: object };
    return {
      of: typeof of === "string" ? of : null,
      settings: OwnSettings.parse({ ...USUAL_SETTINGS, ...settings }),
    };
  });
  return kept ?? { of: null, settings: startingSettings(memory) };
}

/**
 * The settings this window goes by. The bench keeps them for each person; the machine remembers those shown last, so that
 * the first drawing is right. A change holds at once; what could not be stored holds in this window and is sent again with
 * the next change.
 */
export class OwnSettingsStore {
  readonly #memory: WindowMemory;
  readonly #listeners = new Listeners();
  #settings: OwnSettings;
  #of: string | null;
  #person: string | null = null;
  /** The bench has nothing of this person yet: the first change tells it everything. */
  #isNew = false;
  #send: SendSettings | null = null;
  #waiting: OwnSettingsChange | null = null;
  #sending = false;
  #trouble: CallError | null = null;

  constructor(memory: WindowMemory) {
    this.#memory = memory;
    ({ settings: this.#settings, of: this.#of } = remembered(memory));
  }

  readonly settings = (): OwnSettings => this.#settings;
  /** Why the last change is not stored on the bench; null: it is, or nobody is at it. */
  readonly trouble = (): CallError | null => this.#trouble;

  readonly subscribe = this.#listeners.add;

  /** Joins the window to its bench. */
  use(send: SendSettings): void {
    this.#send = send;
  }

  /** Takes what the bench says; what is still on its way there wins over it. */
  take(answer: SettingsAnswer): void {
    const before = this.#person;
    this.#person = answer?.personId ?? null;
    if (!answer) return;
    if (before !== answer.personId) {
      this.#waiting = null;
      this.#trouble = null;
    } else if (this.#sending || this.#waiting) return;
    this.#isNew = answer.settings === null;
    if (answer.settings) this.#show(answer.settings, answer.personId);
    else if (this.#of !== null && this.#of !== answer.personId) {
      this.#show(startingSettings(this.#memory), answer.personId);
    }
  }

  readonly change = (change: OwnSettingsChange): void => {
    this.#show({ ...this.#settings, ...change } as OwnSettings, this.#person);
    if (this.#person === null) return;
    this.#waiting = { ...this.#waiting, ...(this.#isNew ? this.#settings : change) };
    void this.#sendWaiting();
  };

  async #sendWaiting(): Promise<void> {
    const person = this.#person;
    const change = this.#waiting;
    if (this.#sending || !this.#send || person === null || change === null) return;
    this.#sending = true;
    this.#waiting = null;
    const reply = await this.#send(person, change);
    this.#sending = false;
    if (this.#person !== person) return;
    this.#trouble = reply.ok ? null : reply.error;
    this.#tell();
    if (!reply.ok) this.#waiting = { ...change, ...(this.#waiting ?? {}) };
    else {
      this.#isNew = false;
      await this.#sendWaiting();
    }
  }

  #show(settings: OwnSettings, of: string | null): void {
    if (of === this.#of && JSON.stringify(settings) === JSON.stringify(this.#settings)) return;
    this.#settings = settings;
    this.#of = of;
    rememberText(KEY, JSON.stringify({ of, settings }), this.#memory);
    this.#tell();
  }

  #tell(): void {
    this.#listeners.tell();
  }
}

const store = new OwnSettingsStore({ storage: localStorage, page: document });

/** The settings of this window's person; screens share them. */
export const ownSettings = store.settings;
export const changeOwnSettings = store.change;
export const windowSettings = store;

/** The settings, drawn again when they change. */
export function useOwnSettings(): OwnSettings {
  return useSyncExternalStore(store.subscribe, store.settings);
}
