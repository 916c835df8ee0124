/**
 * The parts of exceljs that write. Its whole brings readers and packers that are not maintained and that no workbook
 * of this program needs; these files bring none of them.
 */
declare module "exceljs/lib/stream/xlsx/worksheet-writer.js" {
  import type { DataValidation, Worksheet } from "exceljs";

  interface SheetOptions {
    readonly id: number;
    readonly name: string;
    readonly useSharedStrings: boolean;
    /** What the sheet asks of its book. */
    readonly workbook: object;
    readonly views: object;
    readonly properties: object;
    readonly headerFooter: object;
    readonly pageSetup: object;
  }
  const WorksheetWriter: new (
    options: SheetOptions,
  ) => Worksheet & {
    readonly id: number;
    rId?: string;
    /** Every formula ever written, kept for shared formulas, which are not used here. */
    _formulae: Record<string, unknown>;
    /** Rules for whole ranges; by the documented way there would be one rule per cell. */
    readonly dataValidations: { add(range: string, validation: DataValidation): void };
    readonly _sheetRelsWriter: { addRelationship(relation: { Target: string; Type: string }): string };
    _write(text: string): void;
    /** Called where `drawing` has its place in the sheet (ECMA-376 Part 1, 18.3.1.99). */
    _writeLegacyData(): void;
    /** Called where breaks have their place (18.3.1.74). */
    _writeRowBreaks: () => void;
  };
  export = WorksheetWriter;
}
declare module "exceljs/lib/xlsx/xform/style/styles-xform.js" {
  const StylesXform: new (fresh: boolean) => { readonly xml: string };
  export = StylesXform;
}
declare module "exceljs/lib/utils/shared-strings.js" {
  const SharedStrings: new () => { readonly count: number };
  export = SharedStrings;
}
declare module "exceljs/lib/doc/defined-names.js" {
  const DefinedNames: new () => { readonly model: object; add(range: string, name: string): void };
  export = DefinedNames;
}
declare module "exceljs/lib/xlsx/xform/core/core-xform.js" {
  const CoreXform: new () => { toXml(model: object): string };
  export = CoreXform;
}
declare module "exceljs/lib/xlsx/xform/core/app-xform.js" {
  const AppXform: new () => { toXml(model: object): string };
  export = AppXform;
}
declare module "exceljs/lib/xlsx/xform/core/relationships-xform.js" {
  const RelationshipsXform: new () => { toXml(model: readonly object[]): string };
  export = RelationshipsXform;
}
declare module "exceljs/lib/xlsx/xform/core/content-types-xform.js" {
  const ContentTypesXform: new () => { toXml(model: object): string };
  export = ContentTypesXform;
}
declare module "exceljs/lib/xlsx/xform/book/workbook-xform.js" {
  const WorkbookXform: new () => { prepare(model: object): void; toXml(model: object): string };
  export = WorkbookXform;
}
declare module "exceljs/lib/xlsx/xform/strings/shared-strings-xform.js" {
  const SharedStringsXform: new () => { toXml(model: object): string };
  export = SharedStringsXform;
}
declare module "exceljs/lib/xlsx/xml/theme1.js" {
  const theme: string;
  export = theme;
}
