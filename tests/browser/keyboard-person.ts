import { expect, type Locator, type Page } from "@playwright/test";
import { keysOf } from "#renderer/window/keymap.ts";
import { SCREEN_TITLES, type ScreenName } from "#renderer/window/location.ts";

const MOST_TABS = 150;

/** Somebody without a mouse: everything is reached with Tab and typed. */
export class KeyboardPerson {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async press(...keys: readonly string[]): Promise<void> {
    for (const key of keys) await this.page.keyboard.press(key);
  }

  /** Goes to a screen by its key; a window that has just been drawn may not listen yet, and a person presses again. */
  async go(screen: ScreenName): Promise<void> {
    const there = this.page.locator("nav [aria-current=page]", { hasText: SCREEN_TITLES[screen] }).first();
    await expect(async () => {
      await this.press((keysOf(`go.${screen}`)[0] ?? "").replace("Ctrl", "Control"));
      await there.waitFor({ timeout: 4_000 });
    }).toPass({ timeout: 40_000 });
  }

  /** Tabs on until the element has the focus. @throws when Tab never reaches it */
  async tabTo(target: Locator): Promise<void> {
    await target.waitFor();
    // Each row of a long list is one Tab stop: its first act. Arrows go on to the others.
    const act = await target.evaluate((element) =>
      [...(element.closest("tr")?.querySelectorAll("[data-act]") ?? [])].indexOf(element),
    );
    if (act > 0) {
      await this.tabTo(target.locator("xpath=ancestor::tr//button[@data-act]").first());
      for (let step = 0; step < act; step += 1) await this.press("ArrowRight");
      await expect(target).toBeFocused();
      return;
    }
    for (let tabs = 0; tabs < MOST_TABS; tabs += 1) {
      if (await target.evaluate((element) => element === document.activeElement)) return;
      await this.page.keyboard.press("Tab");
    }
    throw new Error(`Tab does not reach ${target}`);
  }

  field(label: string): Locator {
    return (
      this.page
        .locator("main")
        .getByLabel(new RegExp(`^${label.replaceAll(/[()[\].*+?×]/g, ".")}( \\(.*\\))?$`))
        // What is folded away, as the filters of a list, is nobody's field now.
        .filter({ visible: true })
        .first()
    );
  }

  /** Types over what a field holds. */
  async fill(label: string, text: string): Promise<void> {
    await this.tabTo(this.field(label));
    await this.page.keyboard.press("Control+a");
    await this.page.keyboard.type(text);
  }

  async fillAll(entries: Readonly<Record<string, string>>): Promise<void> {
    for (const [label, text] of Object.entries(entries)) await this.fill(label, text);
  }

  /** Answers a question of radio buttons: Tab to it, then the arrows. */
  async choose(question: string, answer: RegExp): Promise<void> {
    const group = this.page.locator("main").getByRole("group", { name: question });
    const wanted = group.getByRole("radio", { name: answer }).first();
    const checked = group.getByRole("radio", { checked: true });
    await wanted.waitFor();
    await this.tabTo((await checked.count()) > 0 ? checked.first() : group.getByRole("radio").first());
    await this.press("Space");
    for (let step = 0; step < 10 && !(await wanted.isChecked()); step += 1) await this.press("ArrowDown");
    await expect(wanted).toBeChecked();
  }

  /** Presses a button as the keyboard does. */
  async activate(target: Locator): Promise<void> {
    await this.tabTo(target);
    await this.page.keyboard.press("Enter");
  }

  /** Types texts, each followed by Enter. */
  async take(...texts: readonly string[]): Promise<void> {
    for (const text of texts) {
      await this.page.keyboard.type(text);
      await this.page.keyboard.press("Enter");
    }
  }

  /** A cell of the entry grid by its row, from 1, and column. */
  cell(row: number, column: number): Locator {
    return this.page.getByRole("grid").locator(`[aria-rowindex="${row + 2}"] [aria-colindex="${column}"]`);
  }

  async expectCell(row: number, column: number, text: string | RegExp): Promise<void> {
    await expect(this.cell(row, column)).toHaveText(text);
  }

  /** All readings typed so far are on disk. */
  async expectStored(rows: number): Promise<void> {
    await expect(
      this.page.getByText(`${rows} ${rows === 1 ? "row" : "rows"} stored`, { exact: true }),
    ).toBeVisible();
  }
}
