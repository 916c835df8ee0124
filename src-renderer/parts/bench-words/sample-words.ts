/** A sample in a list, with for whom it is: `Heather honey, for Moor Apiary`. */
export function sampleWords({
  sample,
  customer,
}: {
  readonly sample: string;
  readonly customer?: string | undefined;
}): string {
  return customer === undefined ? sample : `${sample}, for ${customer}`;
}
