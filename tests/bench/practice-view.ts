import { count } from "#core/practice/exercises/count.ts";
import { FRAME_MM } from "#core/practice/exercises/count-field.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { measure } from "#core/practice/exercises/measure.ts";
import { FREE_OBJECTIVES, FREE_RULING, freeOptics, freePlacing } from "#core/practice/free-view.ts";
import { NO_RULING, type View } from "#core/practice/view/render-view.ts";
import type { Raster } from "#core/practice/view/scene.ts";
import { viewPainter } from "#core/practice/view/view-painter.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { printTable, threeFigures } from "./print-table.ts";

const FRAMES = 40;
const SIZES = [
  ["1280x800 window", 726, 432],
  ["1920x1080 window", 1366, 583],
  ["the largest drawn, at rest", 1600, 900],
  ["the largest drawn, while it moves", 800, 450],
] as const;
/** One display frame at 60 a second. */
const FRAME_MS = 1000 / 60;
const SEED = 41;

/** What is drawn while a key is held down: the view of a frame. */
interface Scene {
  readonly name: string;
  readonly view: View;
  /** What the person moves: the slide, or the hairline of Count. */
  readonly moved: (view: View, frame: number) => View;
}

const placed = (view: View, change: Partial<View["placing"]>): View => ({
  ...view,
  placing: { ...view.placing, ...change },
});
const slide = (view: View, frame: number): View => placed(view, { xUm: view.placing.xUm + frame });
const focused = (view: View, frame: number): View => placed(view, { outOfFocusUm: frame / 8 });

/** The hairline is part of the reticle, which is then drawn anew as well. */
function hairline(view: View, frame: number): View {
  const { optics } = view;
  const line = { atMm: frame * 0.08 - FRAME_MM / 2, lengthMm: FRAME_MM };
  return { ...view, optics: { ...optics, reticle: { ...optics.reticle, hairline: line } } };
}

/** A look at a task with as many objects as any of the run. */
function fullestView({ tasks, task }: Exercise, look: number): View {
  const views = Array.from({ length: tasks }, (_, index) => memberAt(task(SEED, index + 1).looks, look).view);
  return memberAt(
    views.toSorted((a, b) => (b.specimens?.length ?? 0) - (a.specimens?.length ?? 0)),
    0,
  );
}

function scenes(): readonly Scene[] {
  const objective = memberAt(FREE_OBJECTIVES, 1);
  const ruled = { optics: freeOptics(objective), ruling: FREE_RULING, placing: freePlacing(objective) };
  return [
    { name: "ruling", view: ruled, moved: slide },
    { name: "Measure, 40×", view: fullestView(measure, 2), moved: slide },
    { name: "Count", view: fullestView(count, 0), moved: hairline },
  ];
}

/** Processor time of a call, ms: what other programs on the machine do is left out. */
function processorTime(frames: number, draw: (frame: number) => void): number {
  const before = process.cpuUsage();
  for (let frame = 0; frame < frames; frame += 1) draw(frame);
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000 / frames;
}

/**
 * One picture of the practice view as the window's worker draws it, while something moves and while it is focused, of a
 * ruling and of specimens, against an empty field of that size.
 */
export function benchPracticeView(): void {
  const rows = SIZES.flatMap(([words, width, height]) => {
    const raster: Raster = { width, height, pixelsPerMm: width / 11, lookAtMm: [0, 0] };
    return scenes().map(({ name, view, moved }) => {
      const paint = viewPainter();
      const draw = (change: (view: View, frame: number) => View, of = view) =>
        processorTime(FRAMES, (frame) => void paint(change(of, frame), raster, SEED));
      // The engine compiles the code it meets again: one round that is not counted.
      draw(focused);
      const empty = draw(slide, { ...view, ruling: NO_RULING, specimens: [] });
      const moving = draw(moved);
      const focusing = draw(focused);
      return [
        `${name}, ${words}, ${width}x${height}`,
        threeFigures(empty),
        threeFigures(moving),
        threeFigures(focusing),
        (moving / empty).toFixed(2),
        (FRAME_MS / moving).toFixed(1),
      ];
    });
  });
  printTable(
    [
      "picture",
      "empty field, ms",
      "moving, ms",
      "focus, or a new field, ms",
      "moving/empty",
      "pictures in a 60th s",
    ],
    rows,
  );
}
