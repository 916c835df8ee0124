import { FREE_OBJECTIVES, FREE_RULING, freeOptics, freePlacing } from "#core/practice/free-view.ts";
import { renderView, type View } from "#core/practice/view/render-view.ts";
import { reticleLayer } from "#core/practice/view/reticle-layer.ts";
import type { Raster } from "#core/practice/view/scene.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { printTable, threeFigures } from "./print-table.ts";

const FRAMES = 40;
const SIZES = [
  ["1280x800 window", 726, 432],
  ["1920x1080 window", 1366, 583],
  ["the largest drawn", 1600, 900],
] as const;
/** One display frame at 60 a second. */
const FRAME_MS = 1000 / 60;

/** Processor time of a call, ms: what other programs on the machine do is left out. */
function processorTime(frames: number, draw: (frame: number) => void): number {
  const before = process.cpuUsage();
  for (let frame = 0; frame < frames; frame += 1) draw(frame);
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000 / frames;
}

/** One picture of the practice view while the slide moves and while it is focused, against an empty field of that size. */
export function benchPracticeView(): void {
  const objective = memberAt(FREE_OBJECTIVES, 1);
  const optics = freeOptics(objective);
  const start = freePlacing(objective);
  const rows = SIZES.map(([words, width, height]) => {
    const raster: Raster = { width, height, pixelsPerMm: width / 11, lookAtMm: [0, 0] };
    const reticle = reticleLayer(optics.reticle, raster);
    const draw = (change: (frame: number) => Partial<View["placing"]>, lines = FREE_RULING.lines) =>
      processorTime(FRAMES, (frame) => {
        const view = { optics, ruling: { ...FREE_RULING, lines }, placing: { ...start, ...change(frame) } };
        renderView(view, reticle, raster);
      });
    // The engine compiles the code it meets again: one round that is not counted.
    draw((frame) => ({ outOfFocusUm: frame / 8 }));
    const empty = draw(() => ({}), 0);
    const moving = draw((frame) => ({ xUm: start.xUm + frame }));
    const focusing = draw((frame) => ({ outOfFocusUm: frame / 8 }));
    return [
      `${words}, ${width}x${height}`,
      threeFigures(empty),
      threeFigures(moving),
      threeFigures(focusing),
      (moving / empty).toFixed(2),
      (FRAME_MS / moving).toFixed(1),
    ];
  });
  printTable(
    ["picture", "empty field, ms", "moving, ms", "focusing, ms", "moving/empty", "pictures in a 60th s"],
    rows,
  );
}
