import { expect, type Page } from "@playwright/test";
import type { CountEvent } from "#core/contract/records/count.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { callFrom } from "./bench-window.ts";

/** Every event of a count in its order. */
export async function eventsOf(page: Page, countId: string): Promise<readonly CountEvent[]> {
  const events: CountEvent[] = [];
  for (;;) {
    const part = await callFrom(page, "counts.events", { countId, from: events.length + 1, count: 5000 });
    events.push(...part.events);
    if (events.length >= part.last || part.events.length === 0) return events;
  }
}

/** A figure of the band: `total`, `field`, `in-field`, `stored`. */
export async function expectFigure(page: Page, name: string, text: string | number): Promise<void> {
  await expect(page.locator(`[data-figure="${name}"]`)).toHaveText(String(text), { timeout: 30_000 });
}

/** Opens a count by calls, so that a test starts at its pad. */
export async function seededCount(page: Page, definition: CountMethodDefinition): Promise<string> {
  const request = () => crypto.randomUUID();
  const method = await callFrom(page, "countMethods.define", {
    requestId: request(),
    familyId: null,
    definition,
  });
  const count = await callFrom(page, "counts.open", {
    requestId: request(),
    count: {
      sample: "Invented sample",
      note: "",
      countMethodId: method.id,
      train: null,
      categories: definition.categories,
      inputs: {},
      batch: "",
    },
    position: null,
  });
  return count.id;
}

/** The parts in the light path of the first train. */
export async function trainOfBench(page: Page) {
  const { microscopes } = await callFrom(page, "bench.overview", {});
  const [first] = microscopes;
  if (!first) throw new Error("no microscope");
  const { microscope } = first;
  return {
    microscopeId: microscope.id,
    eyepieceId: microscope.eyepieces[0]?.id ?? "",
    intermediateMagnification: "1" as never,
    objectiveId: microscope.objectives[0]?.id ?? "",
  };
}

/** What a list of keys comes to: keypad digits and `.` are categories, `⏎` a field, `-` undo, `+N+k` a colony. */
export class PaperCount {
  readonly #acts: { readonly field: number; readonly key: string; readonly objects: number }[] = [];
  #field = 1;

  type(keys: string): void {
    for (const [, number, colony, single] of keys.matchAll(/\+(\d+)\+(.)|(.)/g)) {
      if (colony !== undefined) this.#press(colony, Number(number));
      else if (single !== undefined) this.#one(single);
    }
  }

  #one(key: string): void {
    if (key === "⏎") {
      this.#field += 1;
      this.#acts.push({ field: this.#field, key, objects: 0 });
    } else if (key === "-") {
      if (this.#acts.pop()?.key === "⏎") this.#field -= 1;
    } else this.#press(key, 1);
  }

  #press(key: string, objects: number): void {
    this.#acts.push({ field: this.#field, key, objects });
  }

  get field(): number {
    return this.#field;
  }

  /** What stands, in its order: field, key and objects. */
  standing(): readonly string[] {
    return this.#acts.map(({ field, key, objects }) => `${field} ${key} ${objects}`);
  }

  objectsOf(isCounted: (key: string) => boolean): number {
    return this.#acts.reduce((sum, { key, objects }) => sum + (isCounted(key) ? objects : 0), 0);
  }
}
