const formats = new Map<string, Intl.NumberFormat>();

/** An exact amount as it travels ("1250.00", "-0.05") for people: "£1,250.00". Its figures never pass through a floating point number. */
export function sayMoney(amount: string, currency: string): string {
  let format = formats.get(currency);
  if (format === undefined) {
    const places = amount.split('.')[1]?.length ?? 0;
    // the places are those of the amount, whatever this browser holds to be usual for the currency
    format = new Intl.NumberFormat('en-GB', {
      style: 'currency',
      currency,
      minimumFractionDigits: places,
      maximumFractionDigits: places,
    });
    formats.set(currency, format);
  }
  return format.format(amount as Intl.StringNumericLiteral).replace('-', '−');
}

/** A change of an amount, with its sign: "+£3.20", "−£3.20". */
export function sayChange(amount: string, currency: string): string {
  return amount.startsWith('-') ? sayMoney(amount, currency) : `+${sayMoney(amount, currency)}`;
}
