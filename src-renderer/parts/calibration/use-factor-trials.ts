import { useEffect, useRef, useState } from "react";
import type { FactorSimulation, FactorUnderTrial } from "#core/calibration/factor-simulation.ts";
import type { TrialsMessage, TrialsOrder } from "./factor-trials-worker.ts";

export type TrialsView =
  | { readonly at: "idle" }
  | { readonly at: "running" | "stopped"; readonly done: number; readonly of: number }
  | { readonly at: "failed"; readonly reason: string }
  | { readonly at: "done"; readonly simulation: FactorSimulation };

/** The trials of a factor, run off the window's thread; leaving the place ends them. */
export function useFactorTrials(factor: FactorUnderTrial) {
  const [view, setView] = useState<TrialsView>({ at: "idle" });
  const worker = useRef<Worker | null>(null);
  const end = (): void => {
    worker.current?.terminate();
    worker.current = null;
  };
  useEffect(() => () => worker.current?.terminate(), []);

  const start = (trials: number): void => {
    end();
    const running = new Worker(new URL("./factor-trials-worker.ts", import.meta.url), { type: "module" });
    worker.current = running;
    setView({ at: "running", done: 0, of: trials });
    running.onmessage = ({ data }: MessageEvent<TrialsMessage>) => {
      if ("done" in data) return setView({ at: "running", done: data.done, of: trials });
      end();
      setView({ at: "done", simulation: data.simulation });
    };
    running.onerror = ({ message }) => {
      end();
      setView({ at: "failed", reason: message });
    };
    running.postMessage({ factor, trials } satisfies TrialsOrder);
  };
  const stop = (): void => {
    end();
    setView((now) => (now.at === "running" ? { ...now, at: "stopped" } : now));
  };
  return { view, start, stop };
}
