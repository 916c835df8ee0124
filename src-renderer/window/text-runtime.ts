import { jsx as element, jsxs as elements, Fragment } from "react/jsx-runtime";
import { inOwnNotation, shown } from "./notation.ts";

export type { JSX } from "react/jsx-runtime";
export { Fragment };

/**
 * Every element of the window is made here (`jsxImportSource`), so this is the one place where text becomes shown text:
 * numbers and dates of what an element says follow the notation of the person. Text of a person stays as typed
 * (`typed-texts.ts`), and so does an element with `data-as-written`.
 */

type Props = Readonly<Record<string, unknown>>;
type Type = Parameters<typeof element>[0];
type Key = Parameters<typeof element>[2];

/** What an element says beside its children. What a field holds is the field's own matter. */
const SAID = ["title", "aria-label", "placeholder", "alt"] as const;
/** What is told in another language than the person's. */
const VERBATIM: ReadonlySet<unknown> = new Set(["code", "pre", "style", "script"]);

function said(children: unknown): unknown {
  if (typeof children === "string") return shown(children);
  if (typeof children === "number") return shown(String(children));
  return Array.isArray(children) ? children.map(said) : children;
}

function inNotation(type: Type, props: Props): Props {
  if (typeof type !== "string" && type !== Fragment) return props;
  if (!inOwnNotation() || "data-as-written" in props || VERBATIM.has(type)) return props;
  const told: Record<string, unknown> = { ...props };
  if (props.children !== undefined) told.children = said(props.children);
  for (const name of SAID) {
    const text = props[name];
    if (typeof text === "string") told[name] = shown(text);
  }
  return told;
}

export function jsx(type: Type, props: Props, key?: Key) {
  return element(type, inNotation(type, props), key);
}

export function jsxs(type: Type, props: Props, key?: Key) {
  return elements(type, inNotation(type, props), key);
}

/** What the compiler asks for while the program is developed. */
export function jsxDEV(type: Type, props: Props, key?: Key) {
  return jsx(type, props, key);
}
