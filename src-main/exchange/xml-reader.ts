/** XML that is broken, or uses what no spreadsheet writes. */
export class BadXml extends Error {}

export interface XmlEvents {
  /** `tag` is the whole inside of the tag; `name` is without its prefix. */
  open(name: string, tag: string): void;
  close(name: string): void;
  text(text: string): void;
}

const LONGEST_MARKUP = 1_000_000;
const ENTITIES: Readonly<Record<string, string>> = { lt: "<", gt: ">", amp: "&", quot: '"', apos: "'" };

/** The five entities of XML 1.0 and characters by number; no others exist here, so none can grow. */
export function decodeEntities(text: string): string {
  if (!text.includes("&")) return text;
  return text.replace(/&(#x[0-9a-fA-F]{1,6}|#\d{1,7}|\w{1,8});/g, (whole, name: string) => {
    if (!name.startsWith("#")) {
      const known = ENTITIES[name];
      if (known === undefined) throw new BadXml(`it uses the entity ${whole}`);
      return known;
    }
    const code = name[1] === "x" ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    return code <= 0x10ffff ? String.fromCodePoint(code) : "\ufffd";
  });
}

const patterns = new Map<string, RegExp>();

/** The value of an attribute in the inside of a tag; null when it is not there. `name` is ours, never the file's. */
export function attribute(tag: string, name: string): string | null {
  let pattern = patterns.get(name);
  if (pattern === undefined) {
    pattern = new RegExp(`\\s(?:[\\w.-]{1,40}:)?${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)')`);
    patterns.set(name, pattern);
  }
  const found = pattern.exec(tag);
  return found === null ? null : decodeEntities(found[1] ?? found[2] ?? "");
}

function nameOf(tag: string): string {
  const end = tag.search(/[\s/]/);
  const whole = end < 0 ? tag : tag.slice(0, end);
  return whole.slice(whole.indexOf(":") + 1);
}

/** End of the tag that begins at `from`, minding quoted attributes; −1 when it is not complete yet. */
function tagEnd(buffer: string, from: number): number {
  let quote = "";
  for (let at = from + 1; at < buffer.length; at += 1) {
    const character = buffer.charAt(at);
    if (quote !== "") {
      if (character === quote) quote = "";
    } else if (character === '"' || character === "'") quote = character;
    else if (character === ">") return at;
  }
  return -1;
}

/** Marked sections that are passed over or taken as text, with what ends them. */
const SECTIONS = [
  { begin: "<!--", end: "-->", isText: false },
  { begin: "<![CDATA[", end: "]]>", isText: true },
  { begin: "<?", end: "?>", isText: false },
] as const;

/**
 * Reads XML fed in pieces and tells of its elements and text. Document type declarations are refused, so nothing can
 * be declared, fetched or expanded.
 */
export function createXmlReader(events: XmlEvents): { read(piece: string): void } {
  let buffer = "";

  /** @returns where reading goes on, or −1 when more is needed */
  function readMarkup(at: number): number {
    for (const { begin, end, isText } of SECTIONS) {
      if (!buffer.startsWith(begin, at)) continue;
      const stop = buffer.indexOf(end, at + begin.length);
      if (stop < 0) return -1;
      if (isText) events.text(buffer.slice(at + begin.length, stop));
      return stop + end.length;
    }
    // Too little is there yet to tell a section from a declaration.
    if (buffer.length - at < 9 && SECTIONS.some(({ begin }) => begin.startsWith(buffer.slice(at)))) return -1;
    if (buffer.startsWith("<!", at)) throw new BadXml("it declares a document type");
    const end = tagEnd(buffer, at);
    if (end < 0) return -1;
    readTag(buffer.slice(at + 1, end));
    return end + 1;
  }

  function readTag(tag: string): void {
    if (tag.startsWith("/")) {
      events.close(nameOf(tag.slice(1)));
      return;
    }
    const name = nameOf(tag);
    events.open(name, tag);
    if (tag.endsWith("/")) events.close(name);
  }

  return {
    read(piece) {
      buffer += piece;
      let at = 0;
      for (;;) {
        const markup = buffer.indexOf("<", at);
        if (markup < 0) break;
        if (markup > at) events.text(decodeEntities(buffer.slice(at, markup)));
        at = markup;
        const next = readMarkup(markup);
        if (next < 0) break;
        at = next;
      }
      buffer = buffer.slice(at);
      if (buffer.length > LONGEST_MARKUP) throw new BadXml("one of its texts never ends");
    },
  };
}
