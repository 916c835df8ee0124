/** Before a lost host is asked again, ms; the client has tried several times by then. */
export const LOST_PAUSE = 1500;
