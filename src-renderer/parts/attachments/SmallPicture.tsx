import { useEffect, useRef, useState } from "react";
import type { Reply } from "#core/contract/reply.ts";
import { RefusalNotice } from "../RefusalNotice.tsx";
import styles from "./Attachments.module.css";
import { smallPicture } from "./small-picture.ts";

export interface SmallPictureProps {
  /** Gives the whole file; the same function for the same picture. */
  readonly read: () => Promise<Reply<Uint8Array<ArrayBuffer>>>;
  /** Points of the longer side at most. */
  readonly side: number;
  readonly alt: string;
  /** Waits so long before it reads, ms: one that is passed by is not read at all. */
  readonly after?: number;
  /** It is drawn, or its reason stands in its place. */
  readonly onSettled?: () => void;
}

type State = { readonly at: "waiting" | "drawn" } | { readonly at: "failed"; readonly message: string };

function put(picture: ImageBitmap, canvas: HTMLCanvasElement): void {
  canvas.width = picture.width;
  canvas.height = picture.height;
  canvas.getContext("2d")?.drawImage(picture, 0, 0);
}

/** A picture drawn small, of which no more is kept in memory than is shown. */
export function SmallPicture({ read, side, alt, after = 0, onSettled }: SmallPictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [state, setState] = useState<State>({ at: "waiting" });
  const settled = useRef(onSettled);
  settled.current = onSettled;
  useEffect(() => {
    let isWanted = true;
    setState({ at: "waiting" });
    const draw = async (): Promise<State> => {
      const reply = await read();
      if (!reply.ok) return { at: "failed", message: reply.error.message };
      const picture = await smallPicture(reply.value, side);
      if (!picture)
        return { at: "failed", message: "This window cannot draw the picture: its file is not whole." };
      if (isWanted && canvas.current) put(picture, canvas.current);
      picture.close();
      return { at: "drawn" };
    };
    const settle = async (): Promise<void> => {
      const drawn = await draw();
      if (!isWanted) return;
      setState(drawn);
      settled.current?.();
    };
    const timer = setTimeout(() => void settle(), after);
    return () => {
      isWanted = false;
      clearTimeout(timer);
    };
  }, [read, side, after]);
  return (
    <>
      <canvas
        ref={canvas}
        className={styles.small}
        hidden={state.at !== "drawn"}
        role="img"
        aria-label={alt}
        data-drawn={state.at === "drawn" || undefined}
      />
      {state.at === "failed" ? <RefusalNotice error={{ message: state.message }} /> : null}
    </>
  );
}
