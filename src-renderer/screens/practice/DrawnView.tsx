import { useEffect, useRef, useState } from "react";
import type { View } from "#core/practice/view/render-view.ts";
import styles from "./Practice.module.css";
import type { DrawnPicture, ViewOrder } from "./view-worker.ts";

/** Larger pictures than this show nothing more. */
const MOST_PIXELS = 1600;

interface DrawnViewProps {
  readonly view: View;
  readonly lookAtMm: readonly [number, number];
  /** How much of the reticle the picture's width shows. */
  readonly widthMm: number;
  readonly seed: number;
  /** What is seen, for those who do not see it. */
  readonly label: string;
}

/**
 * The view through the eyepiece, drawn in a worker: one picture at a time, always the last one asked for. Bright in both
 * themes, as an eyepiece is.
 */
export function DrawnView({ view, lookAtMm, widthMm, seed, label }: DrawnViewProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [size, setSize] = useState<{ width: number; height: number } | null>(null);
  const draw = useViewWorker(canvas);

  useEffect(() => {
    const element = canvas.current;
    if (!element) return;
    const watch = new ResizeObserver(([entry]) => {
      const { width = 0, height = 0 } = entry?.contentRect ?? {};
      // Both by one scale, or the picture would be squeezed.
      const scale = Math.min(window.devicePixelRatio, MOST_PIXELS / Math.max(width, height, 1));
      const whole = (length: number): number => Math.round(length * scale);
      setSize({ width: whole(width), height: whole(height) });
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, []);

  useEffect(() => {
    if (!size || size.width === 0 || size.height === 0) return;
    const raster = { ...size, pixelsPerMm: size.width / widthMm, lookAtMm };
    draw({ view, raster, seed });
  }, [size, view, lookAtMm, widthMm, seed, draw]);

  return <canvas ref={canvas} className={styles.view} role="img" aria-label={label} />;
}

/** Orders are drawn one after another; of several that wait only the last one is drawn. */
function useViewWorker(canvas: React.RefObject<HTMLCanvasElement | null>): (order: ViewOrder) => void {
  const line = useRef<{ worker: Worker; busy: boolean; next: ViewOrder | null } | null>(null);
  const [draw] = useState(() => (order: ViewOrder) => {
    line.current ??= opened();
    const { worker, busy } = line.current;
    if (busy) line.current.next = order;
    else worker.postMessage(order);
    line.current.busy = true;
  });

  function opened() {
    const worker = new Worker(new URL("./view-worker.ts", import.meta.url), { type: "module" });
    worker.onmessage = ({ data }: MessageEvent<DrawnPicture>) => {
      const now = line.current;
      if (!now) return;
      paint(canvas.current, data);
      if (!data.answers) return;
      now.busy = now.next !== null;
      if (now.next) worker.postMessage(now.next);
      now.next = null;
    };
    return { worker, busy: false, next: null };
  }

  useEffect(
    () => () => {
      line.current?.worker.terminate();
      line.current = null;
    },
    [],
  );
  return draw;
}

function paint(canvas: HTMLCanvasElement | null, { width, height, pixels }: DrawnPicture): void {
  const context = canvas?.getContext("2d");
  if (!canvas || !context) return;
  canvas.width = width;
  canvas.height = height;
  context.putImageData(new ImageData(pixels, width, height), 0, 0);
  canvas.dataset.drawn = String(Number(canvas.dataset.drawn ?? "0") + 1);
}
