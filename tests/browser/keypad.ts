import type { CDPSession, Page } from "@playwright/test";

const OPERATORS: Readonly<Record<string, string>> = {
  "+": "NumpadAdd",
  "-": "NumpadSubtract",
  "*": "NumpadMultiply",
  "/": "NumpadDivide",
  ".": "NumpadDecimal",
  ",": "NumpadDecimal",
};
/** What the pad's keys do with NumLock off. */
const WITHOUT_NUMLOCK: Readonly<Record<string, string>> = {
  "7": "Home",
  "8": "ArrowUp",
  "4": "ArrowLeft",
  "6": "ArrowRight",
  "2": "ArrowDown",
  "1": "End",
  "0": "Insert",
  ".": "Delete",
};
const KEYPAD = 3;

/** The numeric keypad as Chromium receives it: the `press` of the test runner sends its keys as with NumLock off. */
export class Keypad {
  readonly #session: CDPSession;

  private constructor(session: CDPSession) {
    this.#session = session;
  }

  static async of(page: Page): Promise<Keypad> {
    return new Keypad(await page.context().newCDPSession(page));
  }

  /** Types digits and operators; `⏎` is the pad's Enter. */
  async type(keys: string): Promise<void> {
    for (const key of keys) await this.#press(key);
  }

  /** All keys in one go, not waiting for any to be answered. */
  async rush(keys: string): Promise<void> {
    await Promise.all([...keys].map((key) => this.#press(key)));
  }

  /** The same physical keys with NumLock off. */
  async typeWithoutNumLock(keys: string): Promise<void> {
    for (const key of keys) {
      const code = OPERATORS[key] ?? `Numpad${key}`;
      const moved = WITHOUT_NUMLOCK[key] ?? "Clear";
      await this.#send(moved, code, null);
    }
  }

  async #press(key: string): Promise<void> {
    if (key === "⏎") await this.#send("Enter", "NumpadEnter", "\r");
    else await this.#send(key, OPERATORS[key] ?? `Numpad${key}`, key);
  }

  async #send(key: string, code: string, text: string | null): Promise<void> {
    const common = { key, code, location: KEYPAD, isKeypad: true };
    const down = this.#session.send("Input.dispatchKeyEvent", {
      type: text === null ? "rawKeyDown" : "keyDown",
      ...common,
      ...(text === null ? {} : { text }),
    });
    const up = this.#session.send("Input.dispatchKeyEvent", { type: "keyUp", ...common });
    await Promise.all([down, up]);
  }
}
