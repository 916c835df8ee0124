import { sheetDocumentSchema } from "../exchange/json-file.ts";

/** `npm run schema`: the JSON Schema of an exported JSON file, from the types the program reads and writes by. */
console.log(JSON.stringify(sheetDocumentSchema(), null, 2));
