import { createElement, type ReactElement } from "react";
import type { Mark, TextMark } from "#core/drawing/mark.ts";
import styles from "./marks.module.css";

/** Marks of a drawing as elements of an SVG in the window, in the colours of its theme. */
export function Marks({ marks, clip }: { marks: readonly Mark[]; clip?: string }) {
  // By place: a drawing is made anew as a whole, so no mark is the same one elsewhere.
  return createElement("g", clip === undefined ? null : { clipPath: `url(#${clip})` }, ...marks.map(element));
}

function element(mark: Mark): ReactElement {
  return "words" in mark ? textElement(mark) : <path className={styles[mark.look]} d={mark.d} />;
}

function textElement({ look, words, x, y, anchor, centred, upwards }: TextMark): ReactElement {
  return (
    <text
      className={styles[look]}
      x={upwards ? undefined : x}
      y={upwards ? undefined : y}
      transform={upwards ? `translate(${x} ${y}) rotate(-90)` : undefined}
      textAnchor={anchor}
      dy={centred ? "0.34em" : undefined}
    >
      {words}
    </text>
  );
}
