/** One key of the program: what it does, where it works. */
export interface KeyEntry {
  readonly id: string;
  /** Chords as `chordOf` names them; any of them works. */
  readonly keys: readonly string[];
  readonly words: string;
  readonly group:
    | "Everywhere"
    | "Forms"
    | "Bench"
    | "Lists"
    | "Calibrate"
    | "Measure"
    | "Cells"
    | "Trends"
    | "Count";
  /**
   * `dispatched`: the dispatcher runs the handler that `useCommand` gave. `in place`: the field or grid that has the
   * focus answers the key itself; the entry is there for the key map.
   */
  readonly by: "dispatched" | "in place";
}

/** Every key there is. The key map (Shift+F1) is drawn from this table. */
export const KEYMAP = [
  { id: "go.bench", keys: ["Alt+1"], words: "Bench", group: "Everywhere", by: "dispatched" },
  { id: "go.calibrate", keys: ["Alt+2"], words: "Calibrate", group: "Everywhere", by: "dispatched" },
  { id: "go.measure", keys: ["Alt+3"], words: "Measure", group: "Everywhere", by: "dispatched" },
  { id: "go.count", keys: ["Alt+4"], words: "Count", group: "Everywhere", by: "dispatched" },
  { id: "go.trends", keys: ["Alt+5"], words: "Trends", group: "Everywhere", by: "dispatched" },
  { id: "go.registers", keys: ["Alt+6"], words: "Registers", group: "Everywhere", by: "dispatched" },
  { id: "go.records", keys: ["Alt+7"], words: "Records", group: "Everywhere", by: "dispatched" },
  { id: "go.trace", keys: ["Alt+8"], words: "Trace", group: "Everywhere", by: "dispatched" },
  { id: "go.about", keys: ["Alt+9"], words: "About", group: "Everywhere", by: "dispatched" },
  { id: "go.settings", keys: ["Ctrl+,"], words: "Settings", group: "Everywhere", by: "dispatched" },
  { id: "go.practice", keys: ["Alt+0"], words: "Practice", group: "Everywhere", by: "dispatched" },
  {
    id: "go.back",
    keys: ["Alt+ArrowLeft"],
    words: "Back to where you were",
    group: "Everywhere",
    by: "dispatched",
  },
  {
    id: "app.goTo",
    keys: ["Ctrl+K"],
    words: "Go to: screens, commands, sheets, samples, labels, people",
    group: "Everywhere",
    by: "dispatched",
  },
  {
    id: "app.help",
    keys: ["F1"],
    words: "The page of the handbook for this screen, with its keys",
    group: "Everywhere",
    by: "dispatched",
  },
  { id: "app.keys", keys: ["Shift+F1"], words: "Every key", group: "Everywhere", by: "dispatched" },
  {
    id: "app.person",
    keys: ["F4"],
    words: "Change the person at the bench",
    group: "Everywhere",
    by: "dispatched",
  },
  {
    id: "overdue.say",
    keys: ["Alt+U"],
    words: "Say why something overdue is used",
    group: "Everywhere",
    by: "dispatched",
  },
  { id: "app.theme", keys: ["F8"], words: "Light or dim", group: "Everywhere", by: "dispatched" },
  { id: "app.rail", keys: ["Alt+W"], words: "Narrow or wide rail", group: "Everywhere", by: "dispatched" },
  { id: "form.submit", keys: ["Ctrl+Enter"], words: "Save the form", group: "Forms", by: "in place" },
  {
    id: "form.close",
    keys: ["Escape"],
    words: "Close a question or a page of help",
    group: "Forms",
    by: "in place",
  },
  {
    id: "bench.choose",
    keys: ["1", "2", "3", "4", "5", "6", "7", "8", "9"],
    words: "Start the job with this number",
    group: "Bench",
    by: "dispatched",
  },
  {
    id: "list.add",
    keys: ["Alt+N", "Insert"],
    words: "Add a record to this list",
    group: "Lists",
    by: "dispatched",
  },
  {
    id: "list.next",
    keys: ["Alt+PageDown"],
    words: "Next part of the screen",
    group: "Lists",
    by: "dispatched",
  },
  {
    id: "list.previous",
    keys: ["Alt+PageUp"],
    words: "Previous part of the screen",
    group: "Lists",
    by: "dispatched",
  },
  {
    id: "list.menu",
    keys: ["Menu", "Shift+F10"],
    words: "What can be done with the row",
    group: "Lists",
    by: "in place",
  },
  {
    id: "calibrate.force",
    keys: ["Ctrl+Enter"],
    words: "put the factor in force",
    group: "Calibrate",
    by: "in place",
  },
  {
    id: "calibrate.scatter",
    keys: ["Alt+P"],
    words: "another scatter for one setting",
    group: "Calibrate",
    by: "dispatched",
  },
  {
    id: "measure.trace",
    keys: ["F9"],
    words: "trace this result back",
    group: "Measure",
    by: "dispatched",
  },
  { id: "measure.take", keys: ["Enter"], words: "take the reading", group: "Measure", by: "in place" },
  { id: "measure.objective", keys: ["/"], words: "objective by position", group: "Measure", by: "in place" },
  { id: "measure.next", keys: ["+"], words: "next specimen", group: "Measure", by: "in place" },
  { id: "measure.label", keys: ["*"], words: "label as above", group: "Measure", by: "in place" },
  { id: "measure.back", keys: ["-"], words: "step back", group: "Measure", by: "in place" },
  { id: "measure.name", keys: ["A…Z"], words: "label", group: "Measure", by: "in place" },
  { id: "measure.note", keys: ["Ctrl+Enter"], words: "note", group: "Measure", by: "in place" },
  {
    id: "measure.keypad",
    keys: ["/-", "/+", "/*", "/0"],
    words: "undo, redo, strike, more by keypad",
    group: "Measure",
    by: "in place",
  },
  { id: "measure.changer", keys: ["/."], words: "changer or zoom", group: "Measure", by: "in place" },
  { id: "measure.edit", keys: ["F2"], words: "edit the cell", group: "Measure", by: "in place" },
  { id: "measure.refused", keys: ["F3"], words: "next rejected entry", group: "Measure", by: "in place" },
  {
    id: "measure.strike",
    keys: ["Delete"],
    words: "strike the row, or all selected",
    group: "Measure",
    by: "in place",
  },
  {
    id: "measure.rowsObjective",
    keys: ["Alt+O"],
    words: "objective of these rows",
    group: "Measure",
    by: "dispatched",
  },
  { id: "measure.select", keys: ["Shift+←↑→↓"], words: "select", group: "Measure", by: "in place" },
  {
    id: "measure.block",
    keys: ["Ctrl+C", "Ctrl+V"],
    words: "copy, paste a block",
    group: "Measure",
    by: "in place",
  },
  {
    id: "measure.takeBack",
    keys: ["Ctrl+Z", "Ctrl+Y"],
    words: "undo, redo",
    group: "Measure",
    by: "in place",
  },
  {
    id: "measure.panel",
    keys: ["F6"],
    words: "statistics so far",
    group: "Measure",
    by: "dispatched",
  },
  { id: "measure.explain", keys: ["Alt+E"], words: "flags explained", group: "Measure", by: "dispatched" },
  {
    id: "measure.pictures",
    keys: ["Alt+I"],
    words: "pictures of the row, in Count of the field",
    group: "Measure",
    by: "dispatched",
  },
  {
    id: "measure.positions",
    keys: ["Alt+M"],
    words: "positions of rows",
    group: "Measure",
    by: "dispatched",
  },
  {
    id: "measure.view",
    keys: ["Alt+V"],
    words: "view and breaks",
    group: "Measure",
    by: "dispatched",
  },
  {
    id: "measure.width",
    keys: ["Alt+Shift+←", "Alt+Shift+→"],
    words: "width of the column",
    group: "Cells",
    by: "in place",
  },
  { id: "measure.rested", keys: ["Alt+R"], words: "eyes rested", group: "Measure", by: "dispatched" },
  { id: "measure.sound", keys: ["Alt+S"], words: "sound", group: "Measure", by: "dispatched" },
  { id: "measure.undo", keys: ["Escape"], words: "cancel the edit", group: "Measure", by: "in place" },
  { id: "cells.ends", keys: ["Home", "End"], words: "ends of the row", group: "Cells", by: "in place" },
  {
    id: "cells.corners",
    keys: ["Ctrl+Home", "Ctrl+End"],
    words: "first or last cell of the sheet",
    group: "Cells",
    by: "in place",
  },
  { id: "cells.screen", keys: ["PageUp", "PageDown"], words: "a screen on", group: "Cells", by: "in place" },
  {
    id: "cells.extend",
    keys: ["Shift+Home", "Shift+End"],
    words: "select to the end of the row",
    group: "Cells",
    by: "in place",
  },
  {
    id: "cells.find",
    keys: ["Ctrl+F", "Ctrl+G"],
    words: "find a row by number, label or flag",
    group: "Cells",
    by: "dispatched",
  },
  {
    id: "cells.flagged",
    keys: ["Alt+ArrowDown"],
    words: "next flagged row",
    group: "Cells",
    by: "dispatched",
  },
  {
    id: "cells.menu",
    keys: ["Menu", "Shift+F10"],
    words: "what can be done here",
    group: "Cells",
    by: "in place",
  },
  { id: "cells.compact", keys: ["Alt+C"], words: "compact rows", group: "Cells", by: "dispatched" },
  { id: "cells.head", keys: ["Alt+H"], words: "fold the head away", group: "Cells", by: "dispatched" },
  { id: "cells.row", keys: ["Shift+Space"], words: "select the row", group: "Cells", by: "in place" },
  { id: "cells.column", keys: ["Ctrl+Space"], words: "select the column", group: "Cells", by: "in place" },
  { id: "cells.all", keys: ["Ctrl+A"], words: "select everything", group: "Cells", by: "in place" },
  { id: "count.press", keys: ["the key of a category"], words: "one object", group: "Count", by: "in place" },
  { id: "count.field", keys: ["Enter"], words: "new field", group: "Count", by: "in place" },
  { id: "count.undo", keys: ["-", "Backspace"], words: "take the last back", group: "Count", by: "in place" },
  {
    id: "count.number",
    keys: ["+"],
    words: "number of a colony, + again, then its key",
    group: "Count",
    by: "in place",
  },
  {
    id: "count.find",
    keys: ["Space"],
    words: "find a category by letters or code, Enter takes it",
    group: "Count",
    by: "in place",
  },
  { id: "count.half", keys: ["*"], words: "half: then its key", group: "Count", by: "in place" },
  {
    id: "count.measure",
    keys: ["/"],
    words: "measure this object (Alt+← comes back)",
    group: "Count",
    by: "in place",
  },
  { id: "count.pause", keys: ["F7"], words: "pause or go on", group: "Count", by: "dispatched" },
  { id: "trends.day", keys: ["D"], words: "factor of a day", group: "Trends", by: "dispatched" },
  { id: "trends.step", keys: ["←", "→"], words: "point to point", group: "Trends", by: "in place" },
  {
    id: "trends.leap",
    keys: ["PageUp", "PageDown"],
    words: "ten points on",
    group: "Trends",
    by: "in place",
  },
  { id: "trends.ends", keys: ["Home", "End"], words: "first or last point", group: "Trends", by: "in place" },
  { id: "trends.zoom", keys: ["+", "-"], words: "zoom in or out", group: "Trends", by: "in place" },
  { id: "trends.pan", keys: ["Shift+←", "Shift+→"], words: "move along", group: "Trends", by: "in place" },
  { id: "trends.whole", keys: ["0"], words: "the whole history", group: "Trends", by: "in place" },
  { id: "trends.open", keys: ["Enter"], words: "the calibration", group: "Trends", by: "in place" },
] as const satisfies readonly KeyEntry[];

export type CommandId = Extract<(typeof KEYMAP)[number], { by: "dispatched" }>["id"];

type EntryId = (typeof KEYMAP)[number]["id"];

let given: Readonly<Record<string, readonly string[]>> = {};

/** Keys that the person chose, by the command's id; all others keep those of the table. */
export function giveKeys(keys: Readonly<Record<string, readonly string[]>>): void {
  given = keys;
}

/** The keys of a command, for a hint beside its button. */
export function keysOf(id: EntryId): readonly string[] {
  const entry: KeyEntry | undefined = KEYMAP.find((one) => one.id === id);
  if (!entry) return [];
  return (entry.by === "dispatched" ? given[id] : undefined) ?? entry.keys;
}

/** The command that a chord stands for. */
export function commandOf(chord: string): CommandId | undefined {
  return KEYMAP.find((entry) => entry.by === "dispatched" && keysOf(entry.id).includes(chord))?.id as
    | CommandId
    | undefined;
}
