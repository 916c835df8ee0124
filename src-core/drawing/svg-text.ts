import type { Box, Mark, PathMark, TextMark } from "./mark.ts";
import { PATH_STYLES, TEXT_STYLES } from "./print-looks.ts";

/** Marks at a place of their own; `box`: only what lies in it is seen. */
export interface Layer {
  readonly x: number;
  readonly y: number;
  readonly box: Box | null;
  readonly marks: readonly Mark[];
}

/** A drawing that stands by itself, px. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  /** What it shows, for those who do not see it. */
  readonly description: string;
  readonly layers: readonly Layer[];
}

const FONTS = "'Atkinson Hyperlegible Next', 'Segoe UI', 'DejaVu Sans', sans-serif";

/** What no XML 1.0 document may hold (W3C XML 1.0, 2.2 Char). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
const NOT_XML = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

/** Text as content or attribute of an XML document. */
export function xmlText(text: string): string {
  return text
    .toWellFormed()
    .replaceAll(NOT_XML, "\ufffd")
    .replaceAll(/[&<>"]/g, (sign) => ESCAPES[sign] ?? sign);
}

function attributes(values: Readonly<Record<string, string | number | undefined>>): string {
  return Object.entries(values)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${xmlText(String(value))}"`)
    .join("");
}

const tenth = (value: number): number => Math.round(value * 10) / 10;

function pathText({ look, d }: PathMark): string {
  if (d === "") return "";
  const { fill, fillOpacity, stroke, width, dash, roundEnds } = PATH_STYLES[look];
  return `<path${attributes({
    d,
    fill: fill ?? "none",
    "fill-opacity": fillOpacity,
    stroke,
    "stroke-width": width,
    "stroke-dasharray": dash,
    "stroke-linecap": roundEnds && "round",
  })}/>`;
}

type Shown = (text: string) => string;

/** Readers differ in `dy` and `dominant-baseline`: the middle of a text is put a third of its size above the base line. */
function textText({ look, words, x, y, anchor, centred, upwards }: TextMark, shown: Shown): string {
  const { fill, size, bold } = TEXT_STYLES[look];
  const [px, py] = [tenth(x), tenth(centred ? y + 0.34 * size : y)];
  return `<text${attributes({
    ...(upwards ? { transform: `translate(${px} ${py}) rotate(-90)` } : { x: px, y: py }),
    "text-anchor": anchor === "start" ? undefined : anchor,
    "font-size": size,
    "font-weight": bold && "bold",
    fill,
    stroke: "#fff",
    "stroke-width": 3,
    "stroke-linejoin": "round",
    "paint-order": "stroke",
  })}>${xmlText(shown(words))}</text>`;
}

function layerText({ x, y, box, marks }: Layer, at: number, shown: Shown): string {
  const clip = `clip-${at}`;
  const inside = marks.map((mark) => ("words" in mark ? textText(mark, shown) : pathText(mark))).join("");
  const clipPath = box === null ? "" : `<clipPath id="${clip}"><rect${attributes({ ...box })}/></clipPath>`;
  const group = attributes({
    transform: x === 0 && y === 0 ? undefined : `translate(${tenth(x)} ${tenth(y)})`,
    "clip-path": box === null ? undefined : `url(#${clip})`,
  });
  return `${clipPath}<g${group}>${inside}</g>`;
}

/**
 * A picture as an SVG 2 document on white that needs nothing beside itself: no style sheet, no script, no font file; an
 * XML 1.0 document in UTF-8. `shown`: each of its texts as the reader reads numbers and dates.
 */
export function svgDocument(
  { width, height, title, description, layers }: Picture,
  shown: Shown = (text) => text,
): string {
  const root = attributes({
    xmlns: "http://www.w3.org/2000/svg",
    viewBox: `0 0 ${width} ${height}`,
    width,
    height,
    role: "img",
    "aria-labelledby": "title description",
    "font-family": FONTS,
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg${root}>`,
    `<title id="title">${xmlText(shown(title))}</title>`,
    `<desc id="description">${xmlText(shown(description))}</desc>`,
    `<rect width="${width}" height="${height}" fill="#fff"/>`,
    ...layers.map((layer, at) => layerText(layer, at, shown)),
    "</svg>\n",
  ].join("\n");
}
