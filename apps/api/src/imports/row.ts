import { formatDecimal, parseQuantity } from '@corewright/quantities/decimal';
import { addDays, type PlainDate, parsePlainDate, plainDateOf } from '@corewright/quantities/plain-date';
import { isShortenedNumber, isSpreadsheetError, mayBeDateOfSpreadsheet } from '@corewright/quantities/spreadsheet-habits';
import { checkQuantity, type UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { earliestYear, whyNotYears, type Years } from '../catalogue/day-of-record.js';
import type { Refusal } from '../platform/refusal.js';
import type { ReportBook } from './import-report.js';

const shortMax = 200;
const longMax = 4000;
const yearMax = 9999;

export interface RowPlace {
  file: string;
  line: number;
  today: PlainDate;
  /** every day of the calendar in the file moves by so many days */
  shiftDays: number;
}

/**
 * A row of a file: reads each cell as what it is to be. What cannot be read so is a fault, said in words for the person who made
 * the file; the reading goes on, so that all faults of a row come out at once.
 */
export class Row {
  private readonly faultyColumns = new Set<string>();

  constructor(
    private readonly place: RowPlace,
    private readonly cells: readonly string[],
    /** where in a row each column stands */
    private readonly positions: ReadonlyMap<string, number>,
    private readonly report: ReportBook,
  ) {}

  get faulty(): boolean {
    return this.faultyColumns.size > 0;
  }

  isFaultyIn(column: string): boolean {
    return this.faultyColumns.has(column);
  }

  /** how many cells the row has, and how many headings there are */
  get width(): [number, number] {
    return [this.cells.length, this.positions.size];
  }

  get line(): number {
    return this.place.line;
  }

  /** The cell as it stands, without space around it; empty where the column is left out. */
  cell(column: string): string {
    return this.cells[this.positions.get(column) ?? -1] ?? '';
  }

  fault(column: string, words: string): null {
    this.faultyColumns.add(column);
    const { file, line } = this.place;
    this.report.fault({ file, line, column, value: this.cell(column), words });
    return null;
  }

  note(column: string, words: string): void {
    const { file, line } = this.place;
    this.report.note({ file, line, column, value: this.cell(column), words });
  }

  /** A refusal of the rule that the screens go through as well. */
  refused(column: string, refusal: Refusal): null {
    return this.fault(column, refusal.detail);
  }

  text(column: string, max = shortMax): string {
    const text = this.cell(column);
    if (text.length > max) this.fault(column, `This is ${text.length} characters long; ${max} are taken. Shorten it.`);
    else if (unprintable.test(text)) this.fault(column, 'There are characters in it that no page shows. Key it again.');
    else if (isSpreadsheetError(text))
      this.fault(column, 'A spreadsheet left its own error here. Key what belongs into the cell.');
    return text;
  }

  longText(column: string): string {
    return this.text(column, longMax);
  }

  /** A part number, a reference: text that spreadsheets like to take for a number or a date. */
  number(column: string): string {
    const text = this.text(column);
    if (isShortenedNumber(text))
      this.fault(
        column,
        `A spreadsheet has shortened this number, and its last figures are lost. Give the column the format "text", key the number again and save.`,
      );
    if (mayBeDateOfSpreadsheet(text))
      this.note(
        column,
        'This may be a number that a spreadsheet turned into a date. If it is, give the column the format "text" and key it again.',
      );
    return text;
  }

  choice<Option extends string>(column: string, options: readonly Option[], fallback?: Option): Option | null {
    const text = this.cell(column);
    if (text === '' && fallback !== undefined) return fallback;
    const found = options.find((option) => option.toLowerCase() === text.toLowerCase());
    return found ?? this.fault(column, `This is one of: ${options.join(', ')}.`);
  }

  /** An empty cell is a no. */
  yes(column: string): boolean {
    return this.choice(column, ['yes', 'no'], 'no') === 'yes';
  }

  /** Parts of a list within a cell, set off by semicolons. */
  list(column: string): string[] {
    return this.text(column, longMax)
      .split(';')
      .map((each) => each.trim())
      .filter((each) => each !== '');
  }

  choices<Option extends string>(column: string, options: readonly Option[]): Option[] {
    const chosen: Option[] = [];
    for (const each of this.list(column)) {
      const found = options.find((option) => option.toLowerCase() === each.toLowerCase());
      if (found) chosen.push(found);
      else this.fault(column, `"${each}" is none of: ${options.join(', ')}. Several are parted by semicolons.`);
    }
    return chosen;
  }

  whole(column: string, least: number, most: number): number | null {
    const text = this.cell(column);
    if (text === '') return null;
    return wholeIn(text, least, most) ?? this.fault(column, `This is a whole number from ${least} to ${most}.`);
  }

  wholes(column: string, least: number, most: number): number[] {
    return this.list(column).flatMap((each) => {
      const number = wholeIn(each, least, most);
      if (number === null)
        this.fault(column, `"${each}" is not a whole number from ${least} to ${most}. Several are parted by semicolons.`);
      return number === null ? [] : [number];
    });
  }

  /** Years from and to, either of which may be empty. */
  years(first: string, last: string): Years {
    const years = { yearFirst: this.whole(first, 0, yearMax), yearLast: this.whole(last, 0, yearMax) };
    const not = whyNotYears(years, this.place.today);
    if (not !== null) this.fault(not.year === 'yearFirst' ? first : last, not.sentence);
    return years;
  }

  /** More than nothing, and whole where the unit is "each". */
  quantity(column: string, unit: UnitOfMeasure): string | null {
    const text = this.cell(column);
    if (withExponent.test(text)) return this.fault(column, shortenedWords);
    const checked = checkQuantity(text, unit);
    return checked.ok ? formatDecimal(checked.value) : this.fault(column, checked.error.sentence);
  }

  /** Nothing or more; an empty cell is nothing. */
  amount(column: string): string | null {
    const text = this.cell(column) || '0';
    if (withExponent.test(text)) return this.fault(column, shortenedWords);
    const parsed = parseQuantity(text);
    if (!parsed.ok) return this.fault(column, parsed.error.sentence);
    return parsed.value < 0n
      ? this.fault(column, 'This is less than nothing. Key how many there are.')
      : formatDecimal(parsed.value);
  }

  /** A day of the calendar, moved as the whole import is; null where the cell is empty or no day. */
  day(column: string): PlainDate | null {
    const text = this.cell(column);
    if (text === '') return null;
    const parsed = parsePlainDate(text);
    if (parsed.ok && Number(text.slice(0, 4)) < earliestYear)
      return this.fault(column, `This is before ${earliestYear}. Look at the date again.`);
    if (parsed.ok) return this.place.shiftDays === 0 ? parsed.value : addDays(parsed.value, this.place.shiftDays);
    return this.fault(column, wordsOfDay(text) ?? parsed.error.sentence);
  }
}

/** Control characters but for tabs and line ends, and the sign for what could not be read. */
const unprintable = /[^\P{Cc}\t\n\r]|\ufffd/u;
const withExponent = /^[+-]?\d+([.,]\d+)?E[+-]?\d+$/i;
const shortenedWords =
  'A spreadsheet has shortened this number, and its last figures are lost. Widen the column, give it the format "number" without exponent, and save again.';

function wholeIn(text: string, least: number, most: number): number | null {
  const number = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
  return number >= least && number <= most ? number : null;
}

/** What to say of a day that is written in another way than year-month-day. */
function wordsOfDay(text: string): string | null {
  const match = /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})$/.exec(text);
  if (!match) return null;
  const [day, month, year] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const asDay = plainDateOf(year, month, day);
  const swapped = plainDateOf(year, day, month);
  const example = asDay.ok ? asDay.value : swapped.ok ? swapped.value : `${match[3]}-02-28`;
  const isEither = asDay.ok && swapped.ok && asDay.value !== swapped.value;
  const which = isEither ? ` It may be ${asDay.value} or ${swapped.value}: look at what it was copied from.` : '';
  const how = `Write year-month-day, such as ${example}; in a spreadsheet, give the column that format before you save.${which}`;
  if (!asDay.ok && !swapped.ok) return `${asDay.error.sentence} ${how}`;
  return `"${text}" is not written as this is read. ${how}`;
}
