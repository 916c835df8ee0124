import { useRef } from "react";

/** The answer, or while another page is fetched the one before: a list never blinks. */
export function useLastAnswer<T>(data: T | undefined): T | undefined {
  const last = useRef(data);
  if (data !== undefined) last.current = data;
  return last.current;
}
