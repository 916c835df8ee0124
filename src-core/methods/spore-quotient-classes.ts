import type { ClassTable } from "./class-table.ts";

/**
 * Spore shape by Q = length/width. As printed, with its gap from 1.00 to 1.01 and its shared limits; 3.00 is
 * cylindrical, because the last class is “more than 3.00”.
 */
export const SPORE_QUOTIENT_CLASSES: ClassTable = {
  id: "bas-quotient",
  name: "Spore shape (Q)",
  quantity: "Q",
  source:
    "C. Bas: Morphology and subdivision of Amanita (1969), Persoonia 5, 285; quotient classes as mycology pages give them",
  standing: "from memory",
  classes: [
    { name: "spherical", from: "1.00", to: "1.00", fromClosed: true, toClosed: true },
    { name: "globose", from: "1.01", to: "1.05", fromClosed: true, toClosed: true },
    { name: "subglobose", from: "1.05", to: "1.15", fromClosed: true, toClosed: true },
    { name: "broadly ellipsoid", from: "1.15", to: "1.30", fromClosed: true, toClosed: true },
    { name: "ellipsoid", from: "1.30", to: "1.60", fromClosed: true, toClosed: true },
    { name: "oblong", from: "1.60", to: "2.00", fromClosed: true, toClosed: true },
    { name: "cylindrical", from: "2.00", to: "3.00", fromClosed: true, toClosed: true },
    { name: "bacilliform", from: "3.00", to: null, fromClosed: false, toClosed: false },
  ],
};
