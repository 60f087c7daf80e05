/** The parts of a date as they stand on a packet; the year still as written, with two or four figures. */
export type DateReading =
  | { readonly kind: 'day'; readonly year: string; readonly month: number; readonly day: number }
  | { readonly kind: 'month'; readonly year: string; readonly month: number }
  | { readonly kind: 'quarter'; readonly year: string; readonly quarter: number }
  | { readonly kind: 'year'; readonly year: string }
  | { readonly kind: 'decade'; readonly year: string }
  | { readonly kind: 'unknown' };

const longestText = 60;
const monthKeys = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const month =
  '(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)';
const year = '(\\d{4}|\\d{2})';
const between = '(?: ?[/.-] ?| )';
const between0 = '(?: ?[/.-] ?| ?)';

type Groups = readonly [string, string, string];
interface Form {
  readonly pattern: RegExp;
  readonly read: (groups: Groups, material: 'rubber' | 'other') => DateReading;
}

const forms: readonly Form[] = [
  form('(\\d{4})[/.-](\\d{1,2})[/.-](\\d{1,2})', ([y, m, d]) => ({ kind: 'day', year: y, month: Number(m), day: Number(d) })),
  form(`(\\d{1,2})${between}(\\d{1,2})${between}${year}`, ([d, m, y]) => ({
    kind: 'day',
    year: y,
    month: Number(m),
    day: Number(d),
  })),
  form(`(\\d{1,2})${between0}${month}${between0}${year}`, ([d, m, y]) => ({
    kind: 'day',
    year: y,
    month: monthOf(m),
    day: Number(d),
  })),
  form(`${month} (\\d{1,2}) (\\d{4})`, ([m, d, y]) => ({ kind: 'day', year: y, month: monthOf(m), day: Number(d) })),
  form(`${month}${between0}${year}`, ([m, y]) => ({ kind: 'month', year: y, month: monthOf(m) })),
  form('(\\d{4})[/.-](\\d{1,2})', ([y, m]) => ({ kind: 'month', year: y, month: Number(m) })),
  form(`(\\d{1,2})${between}${year}`, ([m, y], material) =>
    // a quarter is never written with a leading nought
    material === 'rubber' && /^[1-4]$/.test(m)
      ? { kind: 'quarter', year: y, quarter: Number(m) }
      : { kind: 'month', year: y, month: Number(m) },
  ),
  form(`q ?([1-4])${between0}${year}`, ([q, y]) => ({ kind: 'quarter', year: y, quarter: Number(q) })),
  form(`([1-4]) ?q${between0}${year}`, ([q, y]) => ({ kind: 'quarter', year: y, quarter: Number(q) })),
  form(`${year}${between0}q ?([1-4])`, ([y, q]) => ({ kind: 'quarter', year: y, quarter: Number(q) })),
  form('(\\d{4})', ([y]) => ({ kind: 'year', year: y })),
  form('(\\d{3})(?:\\?|0 ?s)', ([decade]) => ({ kind: 'decade', year: `${decade}0` })),
  form('(?:|[?]+|-|unknown|none|no date|not dated|undated|illegible|code .*)', () => ({ kind: 'unknown' })),
];

/** Which form the words have, whatever the calendar says of it; null when they have none. */
export function recogniseDate(text: string, material: 'rubber' | 'other'): DateReading | null {
  if (text.length > longestText) return null;
  const words = plainly(text);
  for (const { pattern, read } of forms) {
    const match = pattern.exec(words);
    if (match) return read([match[1] ?? '', match[2] ?? '', match[3] ?? ''], material);
  }
  return null;
}

/** Lower case, without ordinal endings, commas, apostrophes, "of" and full stops after month names; quarters as "q". */
function plainly(text: string): string {
  return text
    .toLowerCase()
    .replace(/(\d)(?:st|nd|rd|th)\b/g, '$1')
    .replace(/\b(?:quarter|qtr)\b/g, 'q')
    .replace(/([a-z])\./g, '$1')
    .replace(/[,'’‘]/g, ' ')
    .replace(/\bof\b/g, ' ')
    .replace(/ +/g, ' ')
    .trim();
}

function monthOf(name: string): number {
  return monthKeys.indexOf(name.slice(0, 3)) + 1;
}

function form(pattern: string, read: Form['read']): Form {
  return { pattern: new RegExp(`^${pattern}$`), read };
}
