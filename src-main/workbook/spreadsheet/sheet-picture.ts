import { xmlText } from "#core/drawing/svg-text.ts";
import type { BookWriter } from "./book-writer.ts";
import type { PngSize } from "./png-size.ts";
import type { SheetWriter } from "./sheet-writer.ts";

/** English Metric Units in a pixel of 1/96 inch (ECMA-376 Part 1, 20.1.10.16: 914 400 to the inch). */
const EMU = 9525;
const NAMESPACES = {
  sheet: "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing",
  main: "http://schemas.openxmlformats.org/drawingml/2006/main",
  relations: "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
} as const;
const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';

export interface SheetPicture {
  readonly png: Buffer<ArrayBuffer>;
  readonly size: PngSize;
  /** How wide it stands on the sheet, px; its height follows. */
  readonly shownWidth: number;
  /** Row of its upper left corner, from 1; the column is the first. */
  readonly row: number;
  readonly name: string;
  /** What it shows, for those who do not see it. */
  readonly alternative: string;
}

/** ECMA-376 Part 1, 20.5.2.24 (oneCellAnchor) and 20.5.2.25 (pic). */
function drawingXml({ size, shownWidth, row, name, alternative }: SheetPicture): string {
  const cx = Math.round(shownWidth * EMU);
  const cy = Math.round((shownWidth * size.height * EMU) / size.width);
  const from = `<xdr:from><xdr:col>0</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${row - 1}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:from>`;
  const named = `<xdr:cNvPr id="2" name="${xmlText(name)}" descr="${xmlText(alternative)}"/>`;
  const locked = '<xdr:cNvPicPr><a:picLocks noChangeAspect="1"/></xdr:cNvPicPr>';
  const fill = '<xdr:blipFill><a:blip r:embed="rId1"/><a:stretch><a:fillRect/></a:stretch></xdr:blipFill>';
  const shape = `<xdr:spPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="${cx}" cy="${cy}"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr>`;
  return (
    `${HEAD}<xdr:wsDr xmlns:xdr="${NAMESPACES.sheet}" xmlns:a="${NAMESPACES.main}" xmlns:r="${NAMESPACES.relations}">` +
    `<xdr:oneCellAnchor>${from}<xdr:ext cx="${cx}" cy="${cy}"/><xdr:pic><xdr:nvPicPr>${named}${locked}</xdr:nvPicPr>` +
    `${fill}${shape}</xdr:pic><xdr:clientData/></xdr:oneCellAnchor></xdr:wsDr>`
  );
}

/** Puts the one picture of a workbook on a worksheet that has not been finished yet. */
export function placePicture(workbook: BookWriter, sheet: SheetWriter, picture: SheetPicture): void {
  sheet.showDrawing(workbook.addPicture(picture.png, drawingXml(picture)));
}
