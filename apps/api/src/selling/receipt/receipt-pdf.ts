import { fitLines } from '@corewright/labels/fit-text';
import { type DotRect, dots, type LabelFont, type SceneText } from '@corewright/labels/label-scene';
import { measureText } from '../../labels/pdf/label-fonts.js';
import { type PaperPage, paperPdf } from '../../labels/pdf/label-pdf.js';
import type { ReceiptRow, ReceiptText } from './receipt-text.js';

/** All in millimetres. A roll is as long as its receipt. */
interface Paper {
  width: number;
  /** null: as long as it needs */
  height: number | null;
  margin: number;
  size: number;
}

const papers: Record<'A4' | 'roll', Paper> = {
  A4: { width: 210, height: 297, margin: 22, size: 4.2 },
  roll: { width: 80, height: null, margin: 5, size: 3.4 },
};

const dpi = 300;
/** More lines of one text than any receipt needs. */
const linesMax = 40;

/** The receipt on office paper or on a narrow roll. */
export function receiptPdf(text: ReceiptText, paper: 'A4' | 'roll'): Buffer {
  const sheet = new Sheets(papers[paper]);
  sheet.write(text.seller, 'strong', 1.5);
  for (const line of text.address) sheet.write(line, 'text', 1);
  sheet.gap(1.2);
  sheet.write(text.title, 'condensed', 1.9);
  for (const line of text.facts) sheet.write(line, 'text', 1);
  sheet.rule();
  for (const row of text.rows) sheet.row(row, 'text');
  sheet.rule();
  sheet.row(text.total, 'strong');
  if (text.takenBack.length > 0) {
    sheet.gap(0.8);
    for (const row of text.takenBack) sheet.row(row, 'text');
  }
  sheet.gap(1.5);
  for (const line of text.foot) sheet.write(line, 'text', 0.85);
  return paperPdf(sheet.pages());
}

/** Sets text downwards and goes on to a further page where one is full. */
class Sheets {
  private readonly done: PaperPage[] = [];
  private texts: SceneText[] = [];
  private rects: DotRect[] = [];
  private y: number;
  private readonly left: number;
  private readonly right: number;

  constructor(private readonly paper: Paper) {
    this.left = dots(paper.margin, dpi);
    this.right = dots(paper.width - paper.margin, dpi);
    this.y = dots(paper.margin, dpi);
  }

  write(text: string, font: LabelFont, scale: number): void {
    this.column(text, font, scale, this.right - this.left);
  }

  /** An amount stands at the right of the first line of its words. */
  row({ words, small, amount }: ReceiptRow, font: LabelFont): void {
    const size = this.sizeOf(1);
    const width = measureText(amount, font, size);
    const room = this.right - this.left - width - size;
    const lines = fitLines(words, { font, size, sizeMin: size, width: room }, linesMax, measureText).lines;
    for (const [index, line] of lines.entries()) {
      this.down(size);
      this.place(line, font, size, this.left);
      if (index === 0) this.place(amount, font, size, this.right - width);
    }
    for (const each of small) this.column(each, 'text', 0.8, room);
    this.gap(0.4);
  }

  rule(): void {
    this.gap(0.5);
    this.down(0);
    this.rects.push({ x: this.left, y: this.y, width: this.right - this.left, height: 3 });
    this.gap(0.5);
  }

  /** @param scale of the size of type */
  gap(scale: number): void {
    this.y += this.sizeOf(scale);
  }

  pages(): PaperPage[] {
    this.turn();
    return this.done;
  }

  private column(text: string, font: LabelFont, scale: number, width: number): void {
    const size = this.sizeOf(scale);
    for (const line of fitLines(text, { font, size, sizeMin: size, width }, linesMax, measureText).lines) {
      this.down(size);
      this.place(line, font, size, this.left);
    }
  }

  private place(text: string, font: LabelFont, size: number, x: number): void {
    const width = measureText(text, font, size);
    this.texts.push({ text, font, size, x, baseline: this.y, width, ink: 'black' });
  }

  private down(size: number): void {
    const { height, margin } = this.paper;
    if (height !== null && this.y + 1.35 * size > dots(height - margin, dpi)) {
      this.turn();
      this.y = dots(margin, dpi);
    }
    this.y += Math.round(1.35 * size);
  }

  private turn(): void {
    const { width, height, margin } = this.paper;
    const ends = height === null ? this.y + dots(margin, dpi) : dots(height, dpi);
    this.done.push({ dpi, width: dots(width, dpi), height: ends, rects: this.rects, texts: this.texts });
    this.texts = [];
    this.rects = [];
  }

  private sizeOf(scale: number): number {
    return Math.round((scale * this.paper.size * dpi) / 25.4);
  }
}
