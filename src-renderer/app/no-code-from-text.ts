import { config } from "zod";

// The content policy forbids code made from text. Without this zod would try when the first schema is made, so this
// module is imported before any other.
config({ jitless: true });
