import { readFileSync } from "node:fs";
import { parseSync } from "vite";

/** What a walk over a parsed source meets; only the fields looked at. */
interface Node {
  readonly type?: string;
  readonly value?: unknown;
}

function* textsOfNode(node: Node): Generator<string> {
  const { type, value } = node;
  if ((type === "Literal" || type === "JSXText") && typeof value === "string") yield value;
  if (type === "TemplateElement") yield String((value as { readonly cooked: unknown }).cooked);
  for (const part of Object.values(node)) {
    if (typeof part === "object" && part !== null) yield* textsOfNode(part as Node);
  }
}

/** Every text a source file holds: strings, parts of templates, and text between tags; no comments. */
export function textsOfSource(path: string): readonly string[] {
  return [...textsOfNode(parseSync(path, readFileSync(path, "utf8")).program as Node)];
}
