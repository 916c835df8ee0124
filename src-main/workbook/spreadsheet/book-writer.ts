import type { Writable } from "node:stream";
import type { AddWorksheetOptions } from "exceljs";
import DefinedNames from "exceljs/lib/doc/defined-names.js";
import WorksheetWriter from "exceljs/lib/stream/xlsx/worksheet-writer.js";
import SharedStrings from "exceljs/lib/utils/shared-strings.js";
import WorkbookXform from "exceljs/lib/xlsx/xform/book/workbook-xform.js";
import AppXform from "exceljs/lib/xlsx/xform/core/app-xform.js";
import ContentTypesXform from "exceljs/lib/xlsx/xform/core/content-types-xform.js";
import CoreXform from "exceljs/lib/xlsx/xform/core/core-xform.js";
import RelationshipsXform from "exceljs/lib/xlsx/xform/core/relationships-xform.js";
import SharedStringsXform from "exceljs/lib/xlsx/xform/strings/shared-strings-xform.js";
import StylesXform from "exceljs/lib/xlsx/xform/style/styles-xform.js";
import theme from "exceljs/lib/xlsx/xml/theme1.js";
import { type ZipPart, ZipWriter } from "./zip-writer.ts";

/** ECMA-376 Part 1, 12.3 and 15.2: the relationship types of a workbook's parts. */
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships";
const RELATIONS = {
  document: `${OFFICE}/officeDocument`,
  core: `${PACKAGE}/metadata/core-properties`,
  app: `${OFFICE}/extended-properties`,
  styles: `${OFFICE}/styles`,
  theme: `${OFFICE}/theme`,
  sharedStrings: `${OFFICE}/sharedStrings`,
  worksheet: `${OFFICE}/worksheet`,
} as const;

/** How the workbook's own properties tell its making. */
export interface BookOrigin {
  /** The program, as printed in the footers. */
  readonly creator: string;
  readonly createdAt: Date;
}

export type SheetOptions = Pick<AddWorksheetOptions, "views" | "properties" | "headerFooter" | "pageSetup">;
export type StreamedSheet = InstanceType<typeof WorksheetWriter>;

interface Relation {
  readonly Type: string;
  readonly Target: string;
}

/**
 * A workbook streamed into a file: worksheets one after the other, then what they share. exceljs makes the text of
 * each part; order, packing and waiting for the disk are done here.
 */
export class BookWriter {
  readonly definedNames = new DefinedNames();
  readonly styles = new StylesXform(true);
  readonly sharedStrings = new SharedStrings();
  readonly #origin: BookOrigin;
  readonly #zip: ZipWriter;
  readonly #sheets: StreamedSheet[] = [];
  readonly #media: { readonly type: "image"; readonly extension: string }[] = [];
  readonly #drawings: { readonly name: string }[] = [];
  /** The part of the worksheet being written. */
  #open: ZipPart | null = null;

  constructor(out: Writable, origin: BookOrigin) {
    this.#origin = origin;
    this.#zip = new ZipWriter(out, origin.createdAt);
    this.#zip.add("xl/theme/theme1.xml", theme);
    this.#relate("_rels/.rels", [
      { Type: RELATIONS.document, Target: "xl/workbook.xml" },
      { Type: RELATIONS.core, Target: "docProps/core.xml" },
      { Type: RELATIONS.app, Target: "docProps/app.xml" },
    ]);
  }

  /** Begins the next worksheet; the one before it must have been committed. */
  addWorksheet(name: string, options: SheetOptions): StreamedSheet {
    const { views = [], properties = {}, headerFooter = {}, pageSetup = {} } = options;
    const sheet = new WorksheetWriter({
      id: this.#sheets.length + 1,
      name,
      useSharedStrings: true,
      workbook: this,
      views,
      properties,
      headerFooter,
      pageSetup,
    });
    this.#sheets.push(sheet);
    return sheet;
  }

  /** Resolves when the packer has caught up with the worksheet being written. */
  async roomAgain(): Promise<void> {
    await this.#open?.roomAgain();
  }

  /** Adds the one picture of the workbook and the drawing around it. @returns the address to show it by */
  addPicture(png: Buffer, drawing: string): string {
    const image = "image0.png";
    this.#media.push({ type: "image", extension: "png" });
    this.#drawings.push({ name: "drawing1" });
    this.#zip.add(`xl/media/${image}`, png);
    this.#zip.add("xl/drawings/drawing1.xml", drawing);
    this.#relate("xl/drawings/_rels/drawing1.xml.rels", [
      { Type: `${OFFICE}/image`, Target: `../media/${image}` },
    ]);
    return "../drawings/drawing1.xml";
  }

  /** Writes what the worksheets share and ends the file. @throws Error of the stream */
  async commit(): Promise<void> {
    const { creator, createdAt } = this.#origin;
    const worksheets = this.#sheets;
    const about = { creator, lastModifiedBy: creator, created: createdAt, modified: createdAt };
    const parts = { worksheets, sharedStrings: this.sharedStrings, commentRefs: [] };
    const types = { ...parts, media: this.#media, drawings: this.#drawings };
    this.#zip.add("[Content_Types].xml", new ContentTypesXform().toXml(types));
    this.#zip.add("docProps/app.xml", new AppXform().toXml({ worksheets }));
    this.#zip.add("docProps/core.xml", new CoreXform().toXml(about));
    this.#zip.add("xl/styles.xml", this.styles.xml);
    const relations: Relation[] = [
      { Type: RELATIONS.styles, Target: "styles.xml" },
      { Type: RELATIONS.theme, Target: "theme/theme1.xml" },
    ];
    if (this.sharedStrings.count > 0) {
      this.#zip.add("xl/sharedStrings.xml", new SharedStringsXform().toXml(this.sharedStrings));
      relations.push({ Type: RELATIONS.sharedStrings, Target: "sharedStrings.xml" });
    }
    for (const sheet of worksheets) {
      sheet.rId = `rId${relations.length + 1}`;
      relations.push({ Type: RELATIONS.worksheet, Target: `worksheets/sheet${sheet.id}.xml` });
    }
    this.#relate("xl/_rels/workbook.xml.rels", relations);
    const book = new WorkbookXform();
    const definedNames = this.definedNames.model;
    const model = { worksheets, definedNames, views: [], properties: {}, calcProperties: {} };
    book.prepare(model);
    this.#zip.add("xl/workbook.xml", book.toXml(model));
    await this.#zip.finish();
  }

  /** Asked by exceljs for each part it writes itself: a worksheet and, where it has any, its relations. */
  _openStream(name: string): object {
    const part = this.#zip.open(name);
    if (/sheet\d+\.xml$/.test(name)) this.#open = part;
    return {
      pause: () => undefined,
      write: (data: string | { toBuffer(): Buffer }) =>
        part.write(typeof data === "string" ? data : data.toBuffer()),
      end: () => part.end(),
    };
  }

  #relate(name: string, relations: readonly Relation[]): void {
    const numbered = relations.map((relation, at) => ({ Id: `rId${at + 1}`, ...relation }));
    this.#zip.add(name, new RelationshipsXform().toXml(numbered));
  }
}
