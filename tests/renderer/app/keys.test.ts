// @vitest-environment jsdom
import { describe, expect, it, vi } from "vitest";
import { chordOf, type KeyPress } from "#renderer/window/key-chord.ts";
import { KeyDispatcher, takesText } from "#renderer/window/key-dispatcher.ts";
import { KEYMAP, type KeyEntry } from "#renderer/window/keymap.ts";

function press(key: string, more: Partial<KeyPress> = {}): KeyPress {
  return { key, code: "", ctrlKey: false, altKey: false, shiftKey: false, metaKey: false, ...more };
}

describe("the name of a key press", () => {
  it.each([
    [press("1", { code: "Digit1", altKey: true }), "Alt+1"],
    // A French layout prints “&” on that key; from memory.
    [press("&", { code: "Digit1", altKey: true }), "Alt+1"],
    [press("1", { code: "Numpad1", altKey: true }), "Alt+1"],
    [press("3", { code: "Numpad3" }), "3"],
    [press("n", { code: "KeyN", altKey: true }), "Alt+N"],
    // Option prints another character on a Mac, or none yet; from memory.
    [press("ß", { code: "KeyS", altKey: true }), "Alt+S"],
    [press("Dead", { code: "KeyN", altKey: true }), "Alt+N"],
    [press("Ó", { code: "KeyH", altKey: true, shiftKey: true }), "Alt+Shift+H"],
    // Where Alt leaves the letter alone, the layout says which it is: “a” on a French keyboard.
    [press("a", { code: "KeyQ", altKey: true }), "Alt+A"],
    // AltGr on Windows holds Ctrl and Alt and prints a character of its own.
    [press("€", { code: "KeyE", altKey: true, ctrlKey: true }), "Ctrl+Alt+€"],
    [press("ArrowLeft", { code: "ArrowLeft", altKey: true }), "Alt+ArrowLeft"],
    [press("?", { code: "Slash", shiftKey: true }), "?"],
    [press("Enter", { ctrlKey: true }), "Ctrl+Enter"],
    [press("ArrowLeft", { altKey: true, shiftKey: true }), "Alt+Shift+ArrowLeft"],
    [press(" "), "Space"],
    [press("F1"), "F1"],
  ])("%o is %s", (event, chord) => {
    expect(chordOf(event)).toBe(chord);
  });
});

describe("the key table", () => {
  const entries: readonly KeyEntry[] = KEYMAP;

  it("gives no chord to two commands that the dispatcher runs", () => {
    const chords = entries.filter((entry) => entry.by === "dispatched").flatMap((entry) => entry.keys);
    expect(chords).toEqual([...new Set(chords)]);
  });

  it("names every entry once, in words", () => {
    const ids = entries.map((entry) => entry.id);
    expect(ids).toEqual([...new Set(ids)]);
    for (const entry of entries) {
      expect(entry.words.length, entry.id).toBeGreaterThan(2);
      expect(entry.keys.length, entry.id).toBeGreaterThan(0);
    }
  });
});

describe("the dispatcher", () => {
  it("runs the handler given last", () => {
    const dispatcher = new KeyDispatcher();
    const first = vi.fn();
    const last = vi.fn();
    dispatcher.register("app.help", 0, first);
    const takeBack = dispatcher.register("app.help", 0, last);
    expect(dispatcher.press(press("F1"), null)).toBe(true);
    expect([first.mock.calls.length, last.mock.calls.length]).toEqual([0, 1]);
    takeBack();
    dispatcher.press(press("F1"), null);
    expect(first).toHaveBeenCalledOnce();
  });

  it("leaves a key alone that nobody handles, or whose handler declines", () => {
    const dispatcher = new KeyDispatcher();
    expect(dispatcher.press(press("F1"), null)).toBe(false);
    dispatcher.register("app.help", 0, () => false);
    expect(dispatcher.press(press("F1"), null)).toBe(false);
    expect(dispatcher.press(press("F9"), null)).toBe(false);
  });

  it("never takes a digit from a field, and takes chords from anywhere", () => {
    const dispatcher = new KeyDispatcher();
    dispatcher.register("bench.choose", 0, () => true);
    dispatcher.register("go.bench", 0, () => true);
    const input = document.createElement("input");
    expect(dispatcher.press(press("3", { code: "Digit3" }), input)).toBe(false);
    expect(dispatcher.press(press("3", { code: "Digit3" }), document.body)).toBe(true);
    expect(dispatcher.press(press("1", { code: "Digit1", altKey: true }), input)).toBe(true);
  });

  it("hears only what a dialog gave while it is open", () => {
    const dispatcher = new KeyDispatcher();
    const below = vi.fn();
    dispatcher.register("go.bench", 0, below);
    dispatcher.register("app.help", 1, () => true);
    const close = dispatcher.openLayer(1);
    expect(dispatcher.press(press("1", { code: "Digit1", altKey: true }), null)).toBe(false);
    expect(dispatcher.press(press("F1"), null)).toBe(true);
    close();
    expect(dispatcher.press(press("1", { code: "Digit1", altKey: true }), null)).toBe(true);
    expect(below).toHaveBeenCalledOnce();
  });

  it("hears a key before a component can stop it, and a held key once", () => {
    const dispatcher = new KeyDispatcher();
    const run = vi.fn();
    dispatcher.register("app.help", 0, run);
    const stop = dispatcher.listen(window);
    const box = document.createElement("div");
    box.addEventListener("keydown", (event) => event.stopPropagation());
    document.body.append(box);
    const event = new KeyboardEvent("keydown", { key: "F1", bubbles: true, cancelable: true });
    box.dispatchEvent(event);
    expect(run).toHaveBeenCalledOnce();
    expect(event.defaultPrevented).toBe(true);
    box.dispatchEvent(new KeyboardEvent("keydown", { key: "F1", bubbles: true, repeat: true }));
    expect(run).toHaveBeenCalledOnce();
    stop();
    box.dispatchEvent(new KeyboardEvent("keydown", { key: "F1", bubbles: true }));
    expect(run).toHaveBeenCalledOnce();
  });
});

describe("where plain keys are text", () => {
  it.each([
    ["<input>", true],
    ["<textarea></textarea>", true],
    ["<select></select>", true],
    ["<div role='grid'></div>", true],
    ["<button></button>", false],
    ["<p></p>", false],
  ])("%s: %s", (html, text) => {
    document.body.innerHTML = html;
    expect(takesText(document.body.firstElementChild)).toBe(text);
  });
});
