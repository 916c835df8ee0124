/** The mark of a signature between the reset of a PIN and its owner's confirmation; the same on screen and paper. */
export function pinResetWords(at: string, voucher: string): string {
  return `with a PIN that was reset ${at}, ${voucher} vouching, and that its owner had not confirmed`;
}
