import { chordOf, type KeyPress } from "./key-chord.ts";
import { type CommandId, commandOf, keysOf } from "./keymap.ts";

/** Runs a command; `false`: not for me after all, let the key through. */
export type CommandHandler = (chord: string) => unknown;

interface Registration {
  readonly id: CommandId;
  readonly layer: number;
  readonly run: CommandHandler;
}

const TYPES_TEXT = "input, textarea, select, [contenteditable], [role='grid'], [role='gridcell']";

/** True when a plain key belongs to the field that has the focus. */
export function takesText(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest(TYPES_TEXT) !== null;
}

/**
 * The one place that hears keys for commands, in the capture phase, before any field can stop them. Handlers given
 * later win over earlier ones of the same command. While a dialog is open (a higher layer) only its own handlers run.
 */
export class KeyDispatcher {
  #registrations: Registration[] = [];
  #layers: number[] = [0];

  register(id: CommandId, layer: number, run: CommandHandler): () => void {
    const registration = { id, layer, run };
    this.#registrations.push(registration);
    return () => {
      this.#registrations = this.#registrations.filter((one) => one !== registration);
    };
  }

  /** Opens a layer above the present one; the returned function closes it. */
  openLayer(layer: number): () => void {
    this.#layers.push(layer);
    return () => {
      const at = this.#layers.lastIndexOf(layer);
      if (at > 0) this.#layers.splice(at, 1);
    };
  }

  /** Commands of a layer that somebody would hear now. */
  given(layer: number): readonly CommandId[] {
    return [...new Set(this.#registrations.filter((one) => one.layer === layer).map(({ id }) => id))];
  }

  /** Runs a command as the first of its keys does. */
  run(id: CommandId, layer: number): void {
    const chord = keysOf(id)[0] ?? "";
    this.#registrations.findLast((one) => one.id === id && one.layer === layer)?.run(chord);
  }

  /** Runs the command of a key press. @returns true when a handler took it */
  press(press: KeyPress, target: EventTarget | null): boolean {
    const chord = chordOf(press);
    const id = commandOf(chord);
    if (!id || (chord.length === 1 && takesText(target))) return false;
    const top = Math.max(...this.#layers);
    const run = this.#registrations.findLast((one) => one.id === id && one.layer === top)?.run;
    return run !== undefined && run(chord) !== false;
  }

  /** Listens on a window; the returned function stops listening. */
  listen(window: Window): () => void {
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.isComposing || event.repeat) return;
      if (!this.press(event, event.target)) return;
      event.preventDefault();
      event.stopPropagation();
    };
    window.addEventListener("keydown", onKeyDown, { capture: true });
    return () => window.removeEventListener("keydown", onKeyDown, { capture: true });
  }
}
